import { Block } from "./bundle.js";
import { type Html, html } from "./html.js";

/** Lines of a program with their numbers, as a replay names them. */
export class Listing extends Block {
  constructor(
    readonly title: string,
    readonly text: string,
  ) {
    super();
  }

  override toHtml(): Html {
    return html`<p>${this.title}</p><pre class="db-listing">${this.numbered}</pre>`;
  }

  override toString(): string {
    return `${this.title}\n${this.numbered}`;
  }

  private get numbered(): string {
    const lines = this.text.replace(/\n$/, "").split("\n");
    const width = String(lines.length).length;
    return lines.map((line, i) => `${String(i + 1).padStart(width)}  ${line}`).join("\n");
  }
}
