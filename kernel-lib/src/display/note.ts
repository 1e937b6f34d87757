import { restated } from "../figure/restated.js";
import type { UnitSystem } from "../quantity/kinds.js";
import { Block } from "./bundle.js";
import { type Html, html } from "./html.js";
import type { FileUsed } from "./versions.js";
import { whole } from "./whole.js";

/** A plain sentence as a result. */
export class Note extends Block {
  constructor(
    readonly text: string,
    /** the sheet that it speaks of, for `versions` */
    readonly file?: FileUsed,
  ) {
    super();
  }

  override toHtml(): Html {
    return html`<p class="db-quantity">${whole(this.text)}</p>`;
  }

  override toString(): string {
    return this.text;
  }

  override shownIn(system: UnitSystem, kept: readonly string[]): Note {
    return new Note(restated(this.text, system, kept), this.file);
  }
}

/** A plain sentence to end a cell on. @example `${note("3 places left blank: A1, A2, H6")}` // => "3 places left blank: A1, A2, H6" */
export function note(text: string): Note {
  return new Note(text);
}
