import type { EditorLanguageRegistry } from "@jupyterlab/codemirror";
import { createMarkdownParser } from "@jupyterlab/markedparser-extension";
import { RenderMimeRegistry, standardRendererFactories } from "@jupyterlab/rendermime";
import type { IRenderMime } from "@jupyterlab/rendermime-interfaces";
import { figureFactory } from "./figures.js";
import { mathematics } from "./mathematics.js";
import { OutputHtml } from "./output-html.js";

const htmlFactory: IRenderMime.IRendererFactory = {
  safe: true,
  mimeTypes: ["text/html"],
  defaultRank: 50,
  createRenderer: (options) => new OutputHtml(options),
};

/** Which kind of output is shown by what; of an output with several, the lowest rank is shown. */
export function outputRendering(languages: EditorLanguageRegistry): RenderMimeRegistry {
  const replaced = new Set(["text/html", "text/javascript", "application/javascript"]);
  const standard = standardRendererFactories.filter(({ mimeTypes }) => !mimeTypes.some((mime) => replaced.has(mime)));
  return new RenderMimeRegistry({
    initialFactories: [...standard, htmlFactory, figureFactory],
    markdownParser: createMarkdownParser(languages),
    latexTypesetter: mathematics,
  });
}
