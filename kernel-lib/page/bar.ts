import type { NotebookPanel } from "@jupyterlab/notebook";
import { NotebookActions } from "@jupyterlab/notebook";
import type { Actions } from "./commands.js";
import { button, element } from "./dom.js";
import { lookButton } from "./theme.js";

/** buttons that stay in sight on the narrowest page, and those that fold away there */
const first = ["save", "run", "runAll", "stop"];
const foldable = [
  ["restart", "restartRunAll"],
  ["above", "below", "up", "down", "delete"],
  ["undo", "redo"],
];

const keyWords: { readonly [key: string]: string } = { Accel: "Ctrl", ArrowUp: "↑", ArrowDown: "↓" };

/** The head of the page: where we are, what can be done, how the kernel does. */
export class Bar {
  readonly node = element("header", { class: "bar" });
  private readonly kernel = element(
    "span",
    { class: "kernel", role: "status", title: "How the kernel does" },
    "starting",
  );
  private readonly saved = element("span", { class: "saved", role: "status" });

  constructor(
    panel: NotebookPanel,
    actions: Actions,
    further: { readonly report: () => void; readonly versions: () => void },
  ) {
    const press = (name: string) => toolButton(panel, name, actions);
    const more = element("div", { class: "more" });
    for (const names of foldable) more.append(element("span", { class: "group" }, ...names.map(press)));
    more.append(element("span", { class: "group" }, kindChoice(panel)));
    const download = button("Report", further.report, {
      title: "Download what this page shows as one file to read or print",
      class: "quiet",
    });
    const versions = button("Versions", further.versions, {
      title: "Earlier versions of this notebook, to bring one back",
      class: "quiet",
    });
    const unfold = button("More", () => unfold.setAttribute("aria-expanded", String(more.classList.toggle("open"))), {
      class: "unfold",
      "aria-expanded": "false",
    });
    const place = element(
      "div",
      { class: "place" },
      element("a", { href: "/" }, "Dialbook"),
      element("span", { class: "name", title: panel.context.path }, panel.context.path.split("/").at(-1) ?? ""),
      this.saved,
      this.kernel,
      versions,
      download,
      lookButton(),
    );
    const tools = element(
      "div",
      { class: "tools", role: "toolbar", "aria-label": "Notebook" },
      element("span", { class: "group" }, ...first.map(press)),
      unfold,
      more,
    );
    this.node.append(place, tools);
  }

  kernelIs(word: string, status: string): void {
    this.kernel.textContent = `kernel ${word}`;
    this.kernel.dataset.status = status;
  }

  savedIs(dirty: boolean, at: Date | undefined): void {
    this.saved.classList.toggle("dirty", dirty);
    this.saved.textContent = dirty ? "not saved yet" : at ? `saved ${at.toTimeString().slice(0, 5)}` : "as on disk";
  }
}

function toolButton(panel: NotebookPanel, name: string, actions: Actions): HTMLButtonElement {
  const action = actions[name]!;
  const keys = (action.keys ?? []).map((sequence) => sequence.map(spoken).join(", "));
  const mode = action.place === "selected" && keys.length > 0 ? ", with the cell selected (Esc)" : "";
  const made = button(action.label, () => void runAction(), {
    "data-action": name,
    title: keys.length > 0 ? `${action.label}: ${keys.join(" or ")}${mode}` : action.label,
  });
  // the cell keeps the focus, and with it what the keys mean
  made.addEventListener("pointerdown", (event) => event.preventDefault());
  const focus = (): void =>
    void NotebookActions.focusActiveCell(panel.content, { waitUntilReady: false, preventScroll: true });
  async function runAction(): Promise<void> {
    const done = action.act();
    focus();
    await done;
    // cells may have run for minutes: whoever writes or looks elsewhere by then stays there
    if (document.activeElement === document.body) focus();
  }
  return made;
}

function spoken(keys: string): string {
  return keys
    .split(" ")
    .map((key) => keyWords[key] ?? key)
    .join("+");
}

function kindChoice(panel: NotebookPanel): HTMLSelectElement {
  const kinds = { code: "Code", markdown: "Text", raw: "Raw" } as const;
  const choice = element("select", {
    "aria-label": "Kind of cell",
    title: "Kind of cell: code (Y), text (M), raw (R)",
  });
  for (const [kind, label] of Object.entries(kinds)) choice.append(element("option", { value: kind }, label));
  const show = (): void => {
    choice.value = panel.content.activeCell?.model.type ?? "code";
  };
  panel.content.activeCellChanged.connect(show);
  panel.content.modelContentChanged.connect(show);
  choice.addEventListener("change", () => {
    NotebookActions.changeCellType(panel.content, choice.value as keyof typeof kinds);
    NotebookActions.focusActiveCell(panel.content);
  });
  return choice;
}
