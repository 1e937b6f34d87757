import { fileStem } from "../figure/file-stem.js";
import { type Html, html } from "./html.js";
import { whole } from "./whole.js";

/**
 * A page for the printer as a cell shows it: a link that saves it, and the page itself to look at, in a frame that runs
 * nothing and reaches nothing.
 */
export function printable(document: string, file: string, sentence: string): Html {
  const address = `data:text/html;base64,${Buffer.from(document, "utf8").toString("base64")}`;
  return html`<p>${whole(sentence)}</p><p><a download="${file}" href="${address}">save ${file}</a>, open it and print it</p><iframe sandbox="" srcdoc="${document}" title="${file}" style="width:100%;max-width:230mm;height:312mm;border:1px solid #8886;background:#fff"></iframe>`;
}

/** a file name from a title */
export function fileNameOf(title: string): string {
  return `${fileStem(title, "page")}.html`;
}
