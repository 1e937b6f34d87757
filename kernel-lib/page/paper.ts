import type { ICellModel, ICodeCellModel } from "@jupyterlab/cells";
import type { NotebookPanel } from "@jupyterlab/notebook";
import { OutputArea } from "@jupyterlab/outputarea";
import { MimeModel } from "@jupyterlab/rendermime";
import { Widget } from "@lumino/widgets";
import { element } from "./dom.js";

/** All cells of a notebook laid out for paper alone, without editors: those of two thousand cells take a minute to make. */
export class Paper {
  private readonly node = element("div", { class: "paper" });
  private readonly widgets: Widget[] = [];

  constructor(private readonly notebook: NotebookPanel["content"]) {}

  /** Lays out every cell; the page itself stands aside while it is printed. */
  async lay(): Promise<void> {
    document.body.append(this.node);
    document.body.classList.add("on-paper");
    for (const model of this.notebook.model?.cells ?? []) {
      const cell = element("div", { class: "jp-Cell jp-Notebook-cell" });
      this.node.append(cell);
      if (model.type === "markdown") await this.text(model, cell);
      else this.code(model, cell);
    }
    for (let frame = 0; frame < 2; frame++) await new Promise((drawn) => requestAnimationFrame(drawn));
  }

  dispose(): void {
    for (const widget of this.widgets) widget.dispose();
    document.body.classList.remove("on-paper");
    this.node.remove();
  }

  private async text(model: ICellModel, cell: HTMLElement): Promise<void> {
    const type = "text/markdown";
    const view = this.notebook.rendermime.createRenderer(type);
    view.addClass("jp-MarkdownOutput");
    this.attach(view, cell);
    await view.renderModel(new MimeModel({ data: { [type]: model.sharedModel.getSource() } }));
  }

  private code(model: ICellModel, cell: HTMLElement): void {
    cell.append(element("pre", { class: "written" }, model.sharedModel.getSource()));
    if (model.type !== "code") return;
    const { outputs } = model as ICodeCellModel;
    if (outputs.length === 0) return;
    const { rendermime } = this.notebook;
    this.attach(new OutputArea({ model: outputs, rendermime }), cell);
  }

  private attach(widget: Widget, cell: HTMLElement): void {
    this.widgets.push(widget);
    Widget.attach(widget, cell);
  }
}
