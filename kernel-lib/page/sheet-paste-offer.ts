import { button, element } from "./dom.js";
import type { Desk } from "./sheet-desk.js";
import { isDatum } from "./sheet-model.js";
import { layPasted } from "./sheet-paste.js";
import { judge } from "./sheet-typed.js";

/** Shows what a pasted column would become, before anything is entered. */
export function offerColumn(panel: HTMLElement, desk: Desk, text: string, withDatums: boolean): void {
  const laid = layPasted(text, desk.current, desk.model, withDatums);
  const hasDatums = desk.model.spots.some(({ place }, i) => i >= desk.current && isDatum(place));
  const other = withDatums ? "Leave the datums out" : "With the datums";
  const toggle = hasDatums ? [button(other, () => offerColumn(panel, desk, text, !withDatums))] : [];
  const leave = button("Leave it", () => desk.go(desk.current));
  if (laid.is === "refused") {
    panel.replaceChildren(element("p", { class: "said refused" }, `${laid.sentence}.`), ...toggle, leave);
    return;
  }
  const replaced = laid.cells.filter(({ index, cell }) => desk.cell(index) !== "" && desk.cell(index) !== cell).length;
  const doubt = laid.cells.slice(0, 500).flatMap(({ index, cell }) => {
    const judged = judge(cell, index, desk.model, desk.heights);
    return judged.is === "asked" ? judged.sentence : [];
  });
  const words = [
    `${laid.sentence}.`,
    replaced > 0 ? `${replaced} of them replace readings that stand.` : "",
    doubt.length > 0 ? `${doubt.length} to look at: ${doubt[0]}.` : "",
  ].filter((part) => part !== "");
  panel.replaceChildren(
    element("p", { class: "said asked" }, words.join(" ")),
    button("Enter them", () => desk.enterColumn(laid.cells)),
    ...toggle,
    leave,
  );
}
