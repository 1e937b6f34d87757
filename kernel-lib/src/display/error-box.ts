import { Block } from "./bundle.js";
import { type Html, html } from "./html.js";

export interface ErrorText {
  /** what kind of trouble, in two or three words: "Not compiled", "Measurement error" */
  readonly title: string;
  /** the place: "cell 4, line 2" */
  readonly where: string;
  readonly sentence: string;
  readonly remedy?: string;
  /** the original words of a compiler or a stack, shown small and grey */
  readonly detail?: string;
  /** lines of libraries; folded away in a page, left out of the text */
  readonly hidden?: readonly string[];
}

/** An error as a person at the machine reads it. */
export class ErrorBox extends Block {
  constructor(readonly text: ErrorText) {
    super();
  }

  override toHtml(): Html {
    const { title, where, sentence, remedy, detail, hidden = [] } = this.text;
    return html`<div class="db-error" role="alert">
<p><span class="db-word">${title}</span> <span class="db-where">${where}</span></p>
<p>${sentence}</p>${remedy === undefined ? undefined : html`<p><strong>${remedy}</strong></p>`}${
      detail === undefined ? undefined : html`<pre>${detail}</pre>`
    }${hidden.length === 0 ? undefined : html`<details><summary>${foldedTitle(hidden.length)}</summary><pre>${hidden.join("\n")}</pre></details>`}
</div>`;
  }

  override toString(): string {
    const { title, where, sentence, remedy, detail } = this.text;
    return [`${title} (${where})`, sentence, remedy, detail].filter((line) => line !== undefined).join("\n");
  }
}

function foldedTitle(count: number): string {
  return count === 1 ? "1 line of the library" : `${count} lines of the library`;
}

/** The error box. */
export function errorBox(text: ErrorText): ErrorBox {
  return new ErrorBox(text);
}
