import renderMathInElement from "katex/contrib/auto-render";
import "katex/dist/katex.min.css";

const delimiters = [
  { left: "$$", right: "$$", display: true },
  { left: "\\[", right: "\\]", display: true },
  { left: "\\(", right: "\\)", display: false },
  { left: "$", right: "$", display: false },
];

/** Sets the formulas in an element. What can't be set is shown as it was written, in the colour of a warning. */
export type SetFormulas = (element: HTMLElement) => void;

const setFormulas: SetFormulas = (element) =>
  renderMathInElement(element, { delimiters, throwOnError: false, errorColor: "var(--warm)", trust: false });

Reflect.set(window, "setFormulas", setFormulas);
