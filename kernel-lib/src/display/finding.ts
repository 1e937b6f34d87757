import { restated } from "../figure/restated.js";
import { display, type MimeBundle } from "../quantity/display-member.js";
import type { UnitSystem } from "../quantity/kinds.js";
import { Block, makeBundle } from "./bundle.js";
import { type Html, html } from "./html.js";
import { whole } from "./whole.js";

/** a run without a screen collects the outputs of this type and prints their texts at its end */
export const findingMime = "application/vnd.dialbook.finding+json";

/** What a cell found out, in one sentence; a report and a headless run list the findings of each chapter. */
export class Finding extends Block {
  constructor(readonly text: string) {
    super();
  }

  override toHtml(): Html {
    return html`<p class="db-finding">${whole(this.text)}</p>`;
  }

  override toString(): string {
    return this.text;
  }

  override shownIn(system: UnitSystem, kept: readonly string[]): Finding {
    return new Finding(restated(this.text, system, kept));
  }

  override [display](): MimeBundle {
    return makeBundle(this.text, this.toHtml(), { [findingMime]: { text: this.text } });
  }
}

/**
 * A sentence worth carrying away from a chapter.
 *
 * @example
 * `${finding("the table is hollow by 23 µm ± 4 µm (k = 2) at the places probed")}`
 * // => "the table is hollow by 23 µm ± 4 µm (k = 2) at the places probed"
 */
export function finding(text: string): Finding {
  return new Finding(text);
}
