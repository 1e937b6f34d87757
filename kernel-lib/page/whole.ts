import type { NotebookPanel } from "@jupyterlab/notebook";
import { element } from "./dom.js";
import type { Find } from "./find.js";
import type { Notices } from "./notices.js";
import { Paper } from "./paper.js";

/**
 * A notebook of very many cells draws only those in view: each has an editor of its own. The browser's search and its print
 * see no others; their keys are ours then: Ctrl+F looks in all cells, Ctrl+P prints all of them.
 */
export class WholeNotebook {
  /** stands on paper where the print was asked for by the browser's own menu */
  readonly unprinted = element("p", { class: "unprinted" });

  /** @param mostDrawn up to so many cells are drawn also out of view */
  constructor(
    private readonly notebook: NotebookPanel["content"],
    private readonly find: Find,
    private readonly notices: Notices,
    private readonly mostDrawn: number,
  ) {
    notebook.model?.cells.changed.connect(() => this.drawOnlyInView());
    document.addEventListener("keydown", (event) => this.key(event), { capture: true });
    window.addEventListener("beforeprint", () => {
      this.unprinted.textContent = this.isPartly
        ? `Here are only the cells in view, of ${this.count}. Ctrl+P on the page prints all of them; so does its report.`
        : "";
    });
  }

  private get count(): number {
    return this.notebook.model?.cells.length ?? 0;
  }

  /** whether cells are left out */
  private get isPartly(): boolean {
    return this.notebook.notebookConfig.windowingMode === "full";
  }

  private drawOnlyInView(): void {
    if (this.count <= this.mostDrawn || this.isPartly) return;
    this.notebook.notebookConfig = { ...this.notebook.notebookConfig, windowingMode: "full" };
  }

  private key(event: KeyboardEvent): void {
    if (!this.isPartly || event.altKey || event.shiftKey || !(event.ctrlKey || event.metaKey)) return;
    const asked = { f: () => this.find.open(), p: () => void this.print() }[event.key.toLowerCase()];
    if (!asked) return;
    event.preventDefault();
    event.stopPropagation();
    asked();
  }

  private async print(): Promise<void> {
    if (this.notices.has("print")) return;
    this.notices.say("print", `laying out ${this.count} cells for the paper`, [], "plain");
    const paper = new Paper(this.notebook);
    try {
      await paper.lay();
      this.notices.settle("print");
      window.print();
    } finally {
      this.notices.settle("print");
      paper.dispose();
    }
  }
}
