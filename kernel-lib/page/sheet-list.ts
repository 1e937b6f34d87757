import { element } from "./dom.js";
import type { Desk } from "./sheet-desk.js";
import { groupOf, isDatum } from "./sheet-model.js";
import { nameOf, unitText } from "./sheet-typed.js";

const rowHeight = 36;

/** Every reading in its order, as on the paper list; only the rows in sight are made, however long the sheet is. */
export class SheetList {
  readonly node = element("div", { class: "list", tabindex: "0", "aria-label": "readings in their order" });
  private readonly rows = element("div", { class: "rows", role: "list" });

  constructor(
    private readonly desk: () => Desk,
    private readonly choose: (index: number) => void,
  ) {
    this.node.append(this.rows);
    this.node.addEventListener("scroll", () => this.draw());
    this.rows.addEventListener("click", (event) => this.choose(this.indexAt(event)));
  }

  /** the row that was pressed; where it was made anew while it was pressed, the one that stands in its place */
  private indexAt({ target, clientY }: MouseEvent): number {
    const row = target instanceof Element ? target.closest<HTMLElement>(".row") : null;
    const at = Math.floor((clientY - this.rows.getBoundingClientRect().top) / rowHeight);
    return row ? Number(row.dataset.index) : at;
  }

  /** scrolls so that the current reading is in sight */
  follow(): void {
    this.rows.style.height = `${this.desk().model.spots.length * rowHeight}px`;
    const top = this.desk().current * rowHeight;
    const { scrollTop, clientHeight } = this.node;
    if (top < scrollTop + rowHeight || top > scrollTop + clientHeight - 3 * rowHeight) {
      this.node.scrollTop = Math.max(0, top - clientHeight / 3);
    }
    this.draw();
  }

  draw(): void {
    const desk = this.desk();
    const count = desk.model.spots.length;
    this.rows.style.height = `${count * rowHeight}px`;
    const first = Math.max(0, Math.floor(this.node.scrollTop / rowHeight) - 4);
    const last = Math.min(count, first + Math.ceil((this.node.clientHeight || 400) / rowHeight) + 8);
    this.rows.replaceChildren(...Array.from({ length: last - first }, (_, i) => this.row(desk, first + i)));
  }

  private row(desk: Desk, index: number): HTMLElement {
    const spot = desk.model.spots[index]!;
    const cells = desk.model.text.row(spot.row);
    const { time, temperature, note } = desk.model.side;
    const aside = [time, temperature, note].flatMap((at) => (at === undefined ? [] : (cells[at] ?? "")));
    const reading = desk.cell(index);
    const clash = desk.saver.clashAt({ spot: spot.key, cell: "reading", was: "", to: "" });
    const made = element(
      "div",
      {
        role: "listitem",
        class: `row${index === desk.current ? " here" : ""}${isDatum(spot.place) ? " datum" : ""}${clash ? " clash" : ""}`,
        style: `top:${index * rowHeight}px`,
        "data-index": String(index),
      },
      element("span", { class: "no" }, String(spot.order ?? index + 1)),
      element("span", { class: "place" }, spot.place),
      element("span", { class: "pass" }, groupOf(spot)),
      element("span", { class: "where" }, spot.where),
      element("span", { class: "z" }, reading === "" ? "·" : `${reading} ${unitText(desk.model)}`),
      element("span", { class: "aside" }, aside.filter((text) => text !== "").join(" · ")),
    );
    made.title = nameOf(spot);
    return made;
  }
}
