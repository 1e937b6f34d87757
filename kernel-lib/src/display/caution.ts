import { restated } from "../figure/restated.js";
import type { UnitSystem } from "../quantity/kinds.js";
import { Block } from "./bundle.js";
import { type Html, html } from "./html.js";
import { whole } from "./whole.js";

/** What a caution says: the plain text of it, as plans, programs and figures carry it. */
export interface CautionText {
  readonly title: string;
  /** one imperative sentence each: "Isolate the spindle before you reach in." */
  readonly lines: readonly string[];
}

/** A caution, shown first and never switched off. */
export class Caution extends Block implements CautionText {
  readonly title: string;
  readonly lines: readonly string[];

  constructor(text: CautionText) {
    super();
    this.title = text.title;
    this.lines = [...text.lines];
  }

  override toHtml(): Html {
    const lines = this.lines.map((line) => html`<li>${whole(line)}</li>`);
    return html`<div class="db-caution" role="note" aria-label="Caution">
<p><span class="db-word">Caution:</span> <strong>${this.title}</strong></p>${lines.length > 0 ? html`<ul>${lines}</ul>` : undefined}
</div>`;
  }

  override shownIn(system: UnitSystem, kept: readonly string[]): Caution {
    const say = (text: string) => restated(text, system, kept);
    return new Caution({ title: say(this.title), lines: this.lines.map(say) });
  }

  override toString(): string {
    return [`CAUTION: ${this.title}`, ...this.lines.map((line) => `  - ${line}`)].join("\n");
  }
}

/**
 * The caution block.
 *
 * @example
 * `${caution("reaching under the spindle", ["Isolate the spindle before you reach in."])}`
 * // => "CAUTION: reaching under the spindle\n  - Isolate the spindle before you reach in."
 */
export function caution(title: string, lines: readonly string[]): Caution {
  return new Caution({ title, lines });
}
