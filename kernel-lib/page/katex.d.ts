declare module "katex/contrib/auto-render" {
  /** Sets the formulas in the text of an element. */
  export default function renderMathInElement(element: HTMLElement, options: object): void;
}
