import { button, element } from "./dom.js";
import { changeName } from "./sheet-changes.js";
import type { Desk } from "./sheet-desk.js";
import type { SaveState } from "./sheet-saver.js";
import type { SheetServer } from "./sheet-wire.js";

/** The line under the name of the sheet: whether the file holds what is shown. */
export function saveWords(desk: Desk, state: SaveState): string {
  const waiting = desk.saver.pending.length;
  if (state.is === "saved") return desk.isOpen ? "all saved" : "";
  if (state.is === "saving") return "saving";
  if (state.is === "clash") return "two readings for one place";
  return `${waiting} change${waiting === 1 ? "" : "s"} kept here, not in the file yet`;
}

/** What the notices are about: where it is the same, those that stand say it already, with what is typed into them. */
export function noticesAbout(desk: Desk, state: SaveState): readonly unknown[] {
  const kept = state.is === "kept" || state.is === "stuck" ? [state.sentence] : [];
  return [desk.isOpen, ...desk.model.outline.unread, ...kept, ...desk.saver.clashes];
}

/** What needs the person: readings that two people wrote, a server that is away, a sheet that is closed. */
export function noticeNodes(desk: Desk, state: SaveState, server: SheetServer): readonly HTMLElement[] {
  const nodes: HTMLElement[] = [];
  if (!desk.isOpen) nodes.push(closedNode(desk, server));
  for (const sentence of desk.model.outline.unread) nodes.push(notice(`${sentence}.`));
  if (state.is === "kept" || state.is === "stuck") nodes.push(keptNode(desk, state.sentence));
  for (const clash of desk.saver.clashes) {
    const { mine, theirs } = clash;
    const settle = (stands: "mine" | "theirs") => () => {
      desk.saver.settle(clash, stands);
      desk.settled();
    };
    const words = `${changeName(mine)}: you wrote ${said(mine.to)}, in the file stands ${said(theirs)}`;
    nodes.push(
      theirs === undefined
        ? notice(`${words}; write it elsewhere, then put it away here.`, button("Put mine away", settle("theirs")))
        : notice(
            `${words}; which of the two stands?`,
            button(`Mine, ${said(mine.to)}`, settle("mine")),
            button(`The other, ${said(theirs)}`, settle("theirs")),
          ),
    );
  }
  return nodes;
}

export function notice(sentence: string, ...answers: readonly HTMLElement[]): HTMLElement {
  return element("div", { class: "notice warm", role: "status" }, element("span", {}, sentence), ...answers);
}

function said(text: string | undefined): string {
  if (text === undefined) return "no such row any more";
  return text === "" ? "nothing" : text;
}

function keptNode(desk: Desk, sentence: string): HTMLElement {
  const save = () => {
    const link = element("a", { download: desk.disk.name.replace(/(\.\w+)?$/, "-mine$1") });
    link.href = URL.createObjectURL(new Blob([desk.model.text.text], { type: "text/csv" }));
    link.click();
    URL.revokeObjectURL(link.href);
  };
  return notice(`${sentence}.`, button("Save the sheet as shown to a file", save));
}

function closedNode(desk: Desk, server: SheetServer): HTMLElement {
  const { name, path, state } = desk.disk;
  const to = element("input", { type: "text", "aria-label": "name of the correction" });
  to.value = name.replace(/(\.\w+)?$/, "-corrected.csv");
  const reason = element("input", { type: "text", placeholder: "what is corrected and why", "aria-label": "reason" });
  const answer = element("p", { class: "said refused", role: "alert" });
  const copy = async () => {
    try {
      location.assign(`/sheet?path=${encodeURIComponent(await server.copy(path, to.value.trim(), reason.value))}`);
    } catch (error) {
      answer.textContent = `${error instanceof Error ? error.message : String(error)}.`;
    }
  };
  return element(
    "div",
    { class: "notice warm copy" },
    element(
      "span",
      {},
      `This sheet is ${state} and opens to read. A correction is saved under a new name; enter it in data/README.md too.`,
    ),
    to,
    reason,
    button("Save a correction", () => void copy()),
    answer,
  );
}
