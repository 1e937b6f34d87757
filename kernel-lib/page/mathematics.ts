import type { IRenderMime } from "@jupyterlab/rendermime-interfaces";
import renderMathInElement from "katex/contrib/auto-render";
import "katex/dist/katex.min.css";

const delimiters = [
  { left: "$$", right: "$$", display: true },
  { left: "\\[", right: "\\]", display: true },
  { left: "\\(", right: "\\)", display: false },
  { left: "$", right: "$", display: false },
];

/** Formulas in Markdown. What can't be set is shown as it was written, in the colour of a warning. */
export const mathematics: IRenderMime.ILatexTypesetter = {
  typeset: (element) =>
    renderMathInElement(element, { delimiters, throwOnError: false, errorColor: "var(--warm)", trust: false }),
};
