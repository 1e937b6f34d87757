import { NotebookActions, type NotebookPanel, runCell, setCellExecutor } from "@jupyterlab/notebook";
import { CommandRegistry } from "@lumino/commands";
import type { KernelWatch } from "./kernel-watch.js";
import type { Saving } from "./saving.js";

/** Where a key works: wherever the focus is, on the notebook as a whole, while a cell is selected, or while one is written in. */
type Place = "page" | "any" | "selected" | "writing";

interface Action {
  readonly label: string;
  readonly keys?: readonly (readonly string[])[];
  readonly place?: Place;
  readonly act: () => unknown;
}

export type Actions = { readonly [name: string]: Action };

/** All that can be done with a notebook, with the keys that Jupyter's users know. */
export function notebookActions(panel: NotebookPanel, saving: Saving, kernel: KernelWatch): Actions {
  const { content, sessionContext } = panel;
  const select = (act: (notebook: typeof content) => unknown) => () => act(content);
  return {
    save: { label: "Save", keys: [["Accel S"]], place: "page", act: () => saving.save("asked") },
    saveSelected: { label: "Save", keys: [["S"]], place: "selected", act: () => saving.save("asked") },
    run: { label: "Run", keys: [["Shift Enter"]], act: () => NotebookActions.runAndAdvance(content, sessionContext) },
    runHere: { label: "Run, stay", keys: [["Accel Enter"]], act: () => NotebookActions.run(content, sessionContext) },
    runInsert: {
      label: "Run, new cell",
      keys: [["Alt Enter"]],
      act: () => NotebookActions.runAndInsert(content, sessionContext),
    },
    runAll: { label: "Run all", act: () => NotebookActions.runAll(content, sessionContext) },
    stop: { label: "Stop", keys: [["I", "I"]], place: "selected", act: () => kernel.interrupt() },
    restart: { label: "Restart", keys: [["0", "0"]], place: "selected", act: () => kernel.restart() },
    restartRunAll: {
      label: "Restart and run all",
      act: async () => (await kernel.restart()) && NotebookActions.runAll(content, sessionContext),
    },
    above: { label: "Add above", keys: [["A"]], place: "selected", act: select(NotebookActions.insertAbove) },
    below: { label: "Add below", keys: [["B"]], place: "selected", act: select(NotebookActions.insertBelow) },
    up: { label: "Up", keys: [["Accel Shift ArrowUp"]], act: select(NotebookActions.moveUp) },
    down: { label: "Down", keys: [["Accel Shift ArrowDown"]], act: select(NotebookActions.moveDown) },
    delete: { label: "Delete", keys: [["D", "D"]], place: "selected", act: select(NotebookActions.deleteCells) },
    undo: { label: "Undo", keys: [["Z"]], place: "selected", act: select(NotebookActions.undo) },
    redo: { label: "Redo", keys: [["Shift Z"]], place: "selected", act: select(NotebookActions.redo) },
    undoText: { label: "Undo", keys: [["Accel Z"]], place: "writing", act: () => content.activeCell?.editor?.undo() },
    redoText: {
      label: "Redo",
      keys: [["Accel Shift Z"], ["Accel Y"]],
      place: "writing",
      act: () => content.activeCell?.editor?.redo(),
    },
    cut: { label: "Cut", keys: [["X"]], place: "selected", act: select(NotebookActions.cut) },
    copy: { label: "Copy", keys: [["C"]], place: "selected", act: select(NotebookActions.copy) },
    paste: { label: "Paste", keys: [["V"]], place: "selected", act: () => NotebookActions.paste(content, "below") },
    pasteAbove: {
      label: "Paste above",
      keys: [["Shift V"]],
      place: "selected",
      act: () => NotebookActions.paste(content, "above"),
    },
    merge: { label: "Merge", keys: [["Shift M"]], place: "selected", act: () => NotebookActions.mergeCells(content) },
    split: {
      label: "Split",
      keys: [["Ctrl Shift -"]],
      place: "writing",
      act: () => NotebookActions.splitCell(content),
    },
    toCode: {
      label: "Code",
      keys: [["Y"]],
      place: "selected",
      act: () => NotebookActions.changeCellType(content, "code"),
    },
    toText: {
      label: "Text",
      keys: [["M"]],
      place: "selected",
      act: () => NotebookActions.changeCellType(content, "markdown"),
    },
    toRaw: {
      label: "Raw",
      keys: [["R"]],
      place: "selected",
      act: () => NotebookActions.changeCellType(content, "raw"),
    },
    write: {
      label: "Write",
      keys: [["Enter"]],
      place: "selected",
      act: () => {
        content.mode = "edit";
      },
    },
    leave: { label: "Select", keys: [["Escape"], ["Ctrl M"]], place: "writing", act: () => leaveCell(panel) },
    previous: {
      label: "Cell above",
      keys: [["ArrowUp"], ["K"]],
      place: "selected",
      act: select(NotebookActions.selectAbove),
    },
    next: {
      label: "Cell below",
      keys: [["ArrowDown"], ["J"]],
      place: "selected",
      act: select(NotebookActions.selectBelow),
    },
    widenUp: {
      label: "Select more above",
      keys: [["Shift ArrowUp"], ["Shift K"]],
      place: "selected",
      act: () => NotebookActions.extendSelectionAbove(content),
    },
    widenDown: {
      label: "Select more below",
      keys: [["Shift ArrowDown"], ["Shift J"]],
      place: "selected",
      act: () => NotebookActions.extendSelectionBelow(content),
    },
    all: { label: "Select all", keys: [["Accel A"]], place: "selected", act: select(NotebookActions.selectAll) },
    output: {
      label: "Show or hide output",
      keys: [["O"]],
      place: "selected",
      act: select(NotebookActions.toggleOutput),
    },
    numbers: {
      label: "Line numbers",
      keys: [["Shift L"]],
      place: "selected",
      act: select(NotebookActions.toggleAllLineNumbers),
    },
    clear: { label: "Clear outputs", act: select(NotebookActions.clearAllOutputs) },
  };
}

function leaveCell(panel: NotebookPanel): void {
  panel.content.mode = "command";
}

const selectors: { readonly [place in Place]: readonly string[] } = {
  page: ["body"],
  any: [".jp-Notebook"],
  selected: [".jp-Notebook.jp-mod-commandMode:focus", ".jp-Notebook.jp-mod-commandMode :focus:not(:read-write)"],
  writing: [".jp-Notebook.jp-mod-editMode"],
};

setCellExecutor(Object.freeze({ runCell }));

/** Binds the keys of the actions on this page. */
export function bindKeys(actions: Actions): CommandRegistry {
  const commands = new CommandRegistry();
  for (const [name, { label, keys = [], place = "any", act }] of Object.entries(actions)) {
    commands.addCommand(name, { label, execute: () => act() });
    for (const sequence of keys) {
      for (const selector of selectors[place]) commands.addKeyBinding({ command: name, keys: [...sequence], selector });
    }
  }
  const inTheWay = ".cm-tooltip, dialog[open]";
  document.addEventListener(
    "keydown",
    (event) => {
      // Escape closes what lies over a cell first, and leaves the cell when nothing does
      if (event.key !== "Escape" || !document.querySelector(inTheWay)) commands.processKeydownEvent(event);
    },
    true,
  );
  return commands;
}
