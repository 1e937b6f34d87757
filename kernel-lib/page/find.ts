import type { ICellModel, ICodeCellModel } from "@jupyterlab/cells";
import type { NotebookPanel } from "@jupyterlab/notebook";
import { button, element } from "./dom.js";
import { type CellTexts, firstFrom, type Hit, hitsOf, startsOf } from "./find-places.js";

const mark = "dialbook-found";
/** Not known to the types of every browser yet. */
declare const Highlight: (new (...ranges: Range[]) => unknown) | undefined;
type Marks = { set(name: string, highlight: unknown): void; delete(name: string): void };

/** Finds words in all cells of a notebook, also those that are not drawn, which the browser's own search can't see. */
export class Find {
  readonly node: HTMLElement;
  private readonly words = element("input", { type: "search", "aria-label": "Find in this notebook" });
  private readonly count = element("span", { class: "soft", role: "status" });
  private hits: readonly Hit[] = [];
  private at = 0;

  constructor(private readonly panel: NotebookPanel) {
    this.node = element(
      "search",
      { class: "find", hidden: "" },
      this.words,
      button("Previous", () => void this.go(-1), { title: "Shift+Enter" }),
      button("Next", () => void this.go(1), { title: "Enter" }),
      this.count,
      button("Close", () => this.close(), { class: "quiet", title: "Esc" }),
    );
    this.words.addEventListener("input", () => void this.look());
    this.node.addEventListener("keydown", (event) => {
      if (event.key === "Escape") this.close();
      if (event.key === "Enter" && event.target === this.words) void this.go(event.shiftKey ? -1 : 1);
      event.stopPropagation();
    });
  }

  open(): void {
    this.node.hidden = false;
    this.words.select();
    this.words.focus();
    if (this.words.value !== "") void this.look();
  }

  private close(): void {
    this.node.hidden = true;
    marks()?.delete(mark);
    this.panel.content.activeCell?.node.focus();
    this.panel.content.node.focus();
  }

  /** looks anew: cells may have changed since */
  private async look(): Promise<void> {
    const { content } = this.panel;
    this.hits = hitsOf(this.words.value, [...(content.model?.cells ?? [])].map(textsOf));
    this.at = firstFrom(this.hits, content.activeCellIndex);
    await this.show();
  }

  private async go(step: 1 | -1): Promise<void> {
    const before = this.hits[this.at];
    this.hits = hitsOf(this.words.value, [...(this.panel.content.model?.cells ?? [])].map(textsOf));
    const same = this.hits.findIndex(
      (hit) => hit.cell === before?.cell && hit.part === before.part && hit.nth === before.nth,
    );
    this.at = same < 0 ? firstFrom(this.hits, before?.cell ?? 0) : (same + step + this.hits.length) % this.hits.length;
    await this.show();
  }

  private async show(): Promise<void> {
    marks()?.delete(mark);
    const hit = this.hits[this.at];
    const none = this.words.value === "" ? "" : "not found";
    this.count.textContent = hit ? `${this.at + 1} of ${this.hits.length}` : none;
    if (!hit) return;
    const { content } = this.panel;
    content.activeCellIndex = hit.cell;
    await content.scrollToItem(hit.cell, "smart");
    const cell = content.widgets[hit.cell];
    await cell?.ready;
    await new Promise((drawn) => requestAnimationFrame(() => requestAnimationFrame(drawn)));
    if (cell && this.hits[this.at] === hit) markIn(cell.node, this.words.value, hit);
  }
}

/** marks the hit in the cell as it is drawn, and brings it into view */
function markIn(cell: HTMLElement, words: string, { part, nth }: Hit): void {
  const rendered = cell.querySelector(".jp-MarkdownOutput:not(.lm-mod-hidden)");
  const place =
    part === "shown" ? cell.querySelector(".jp-OutputArea") : (rendered ?? cell.querySelector(".cm-content"));
  const ranges = place ? rangesOf(place, words) : [];
  // what is drawn may leave out signs that the source has
  const range = ranges[Math.min(nth, ranges.length - 1)];
  if (range === undefined) return;
  if (typeof Highlight !== "undefined") marks()?.set(mark, new Highlight(range));
  range.startContainer.parentElement?.scrollIntoView({ block: "nearest" });
}

function rangesOf(place: Element, words: string): Range[] {
  const walker = document.createTreeWalker(place, NodeFilter.SHOW_TEXT);
  const nodes: { readonly node: Text; readonly from: number }[] = [];
  let text = "";
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    if (node.parentElement?.closest("style, script")) continue;
    nodes.push({ node: node as Text, from: text.length });
    text += node.nodeValue ?? "";
  }
  const at = (offset: number) => nodes.findLast(({ from }) => from <= offset)!;
  return startsOf(words, text).map((start) => {
    const range = document.createRange();
    const [first, last] = [at(start), at(start + words.length - 1)];
    range.setStart(first.node, start - first.from);
    range.setEnd(last.node, start + words.length - last.from);
    return range;
  });
}

function textsOf(model: ICellModel): CellTexts {
  const source = model.sharedModel.getSource();
  if (model.type !== "code") return { source, shown: "" };
  const { outputs } = model as ICodeCellModel;
  const shown = Array.from({ length: outputs.length }, (_, k) => shownOf(outputs.get(k).toJSON())).join("\n");
  return { source, shown };
}

/** the text of an output, however it is drawn */
function shownOf(output: { readonly [key: string]: unknown }): string {
  const data = output.data as { readonly [type: string]: unknown } | undefined;
  const text = data?.["text/plain"] ?? output.text ?? output.traceback ?? "";
  return Array.isArray(text) ? text.join("") : String(text);
}

function marks(): Marks | undefined {
  return (CSS as unknown as { highlights?: Marks }).highlights;
}
