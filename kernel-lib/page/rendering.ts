import type { EditorLanguageRegistry } from "@jupyterlab/codemirror";
import { createMarkdownParser } from "@jupyterlab/markedparser-extension";
import { RenderMimeRegistry, standardRendererFactories } from "@jupyterlab/rendermime";
import type { IRenderMime } from "@jupyterlab/rendermime-interfaces";
import { whole } from "../src/display/whole.js";
import { figureFactory } from "./figures.js";
import { mathematics } from "./mathematics.js";
import { OutputHtml } from "./output-html.js";

const htmlFactory: IRenderMime.IRendererFactory = {
  safe: true,
  mimeTypes: ["text/html"],
  defaultRank: 50,
  createRenderer: (options) => new OutputHtml(options),
};

/** Markdown whose lines break where those of a report do: a number stays with its unit, a date and the name of a file whole. */
function joiningParser(languages: EditorLanguageRegistry): IRenderMime.IMarkdownParser {
  const parser = createMarkdownParser(languages);
  return { render: async (text) => joinedMarkup(await parser.render(text)) };
}

/** What is given is not yet sanitised, and is only parsed here: nothing of it is loaded or run. */
function joinedMarkup(markup: string): string {
  const given = new DOMParser().parseFromString(markup, "text/html");
  const walker = given.createTreeWalker(given.body, NodeFilter.SHOW_TEXT);
  const texts: Text[] = [];
  while (walker.nextNode()) texts.push(walker.currentNode as Text);
  for (const text of texts) {
    if (text.parentElement?.closest("code, pre, script, style, svg, textarea")) continue;
    const joined = given.createElement("template");
    joined.innerHTML = whole(text.data).markup;
    text.replaceWith(joined.content);
  }
  return given.body.innerHTML;
}

/** Which kind of output is shown by what; of an output with several, the lowest rank is shown. */
export function outputRendering(languages: EditorLanguageRegistry): RenderMimeRegistry {
  const replaced = new Set(["text/html", "text/javascript", "application/javascript"]);
  const standard = standardRendererFactories.filter(({ mimeTypes }) => !mimeTypes.some((mime) => replaced.has(mime)));
  return new RenderMimeRegistry({
    initialFactories: [...standard, htmlFactory, figureFactory],
    markdownParser: joiningParser(languages),
    latexTypesetter: mathematics,
  });
}
