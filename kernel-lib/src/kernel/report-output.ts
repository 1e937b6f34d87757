import { ErrorBox } from "../display/error-box.js";
import { Html, html } from "../display/html.js";
import type { ErrorOutput, MimeData, Output } from "./notebook.js";
import { isQuietMarkup } from "./quiet-markup.js";
import { isBase64 } from "./report-markdown.js";

/**
 * An output in its richest safe form.
 *
 * HTML is taken over only where the kernel marked it as made by our display code, which escapes every text, and where
 * nothing in it can run: a file that was saved may carry a mark it was given by hand. Pictures go into an image, where no
 * script runs; all else is shown as plain text.
 */
export function renderOutput(output: Output, where: string): Html {
  if (output.output_type === "stream") return textBlock(output.text, output.name);
  if (output.output_type === "error") return renderError(output, where);
  return renderData(output.data, output.metadata.dialbook === true);
}

function renderData(data: MimeData, ours: boolean): Html {
  const own = data["text/html"];
  if (ours && typeof own === "string") {
    // the page carries the look and the script once; what was saved may hold those of another version
    const body = own.replace(/<style>[^<]*<\/style>|<script>[\s\S]*?<\/script>/g, "");
    if (isQuietMarkup(body)) return new Html(body);
  }
  const alt = String(data["text/plain"] ?? "");
  for (const type of ["image/png", "image/jpeg"]) {
    const bytes = data[type];
    if (isBase64(bytes)) return html`<img alt="${alt}" src="data:${type};base64,${bytes.replace(/\s/g, "")}">`;
  }
  const svg = data["image/svg+xml"];
  if (typeof svg !== "string") return textBlock(alt, "text");
  return html`<img alt="${alt}" src="data:image/svg+xml;base64,${Buffer.from(svg, "utf8").toString("base64")}">`;
}

function renderError({ ename, evalue, traceback }: ErrorOutput, where: string): Html {
  const title = ename.replace(/(?<=[a-z])(?=[A-Z])/g, " ");
  const detail = traceback.map(plainLine).filter((line) => line !== `${ename}: ${evalue}`);
  const text = { title, where, sentence: plainLine(evalue) };
  const box = new ErrorBox(detail.length === 0 ? text : { ...text, detail: detail.join("\n") });
  return html`<div class="dialbook">${box.toHtml()}</div>`;
}

function textBlock(text: string, kind: string): Html {
  return text.trim() === "" ? html`` : html`<pre class="out-${kind}">${plainLine(text)}</pre>`;
}

/** Without the colour signs of a terminal. */
function plainLine(text: string): string {
  // biome-ignore lint/suspicious/noControlCharactersInRegex: the escape sign is what is looked for
  return text.replace(/\u001b\[[0-9;]*[A-Za-z]/g, "");
}
