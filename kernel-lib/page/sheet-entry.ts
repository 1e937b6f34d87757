import { button, element } from "./dom.js";
import type { Desk } from "./sheet-desk.js";
import { groupOf, isDatum } from "./sheet-model.js";
import { isColumn } from "./sheet-paste.js";
import { offerColumn } from "./sheet-paste-offer.js";
import { nameOf, unitText } from "./sheet-typed.js";

const keys = ["7", "8", "9", "4", "5", "6", "1", "2", "3", "±", "0", ","] as const;

/** Where the person types: the place, the reading with its unit, what is said of it, big keys. */
export class SheetEntry {
  readonly node = element("section", { class: "entry" });
  private readonly due = element("p", { class: "due" });
  private readonly here = element("p", { class: "here" });
  readonly input = element("input", { id: "reading", type: "text", inputmode: "decimal", autocomplete: "off" });
  private readonly unit = element("span", { class: "unit" });
  private readonly said = element("p", { class: "said", role: "alert" });
  private readonly side = element("div", { class: "side" });
  private readonly pad = this.keypad();
  private readonly paste = element("div", { class: "paste" });
  private readonly stamp = element("input", { type: "checkbox", id: "stamp" });
  private readonly buttons: { readonly [name: string]: HTMLButtonElement };

  constructor(private readonly desk: () => Desk) {
    this.buttons = {
      back: button("Back", () => desk().go(desk().current - 1)),
      blank: button("First blank", () => desk().go(Math.max(0, desk().firstBlank()))),
      undo: button("Undo", () => desk().undo(), { title: "Ctrl+Z" }),
      redo: button("Redo", () => desk().redo(), { title: "Ctrl+Y" }),
    };
    const reading = element("label", { class: "reading", for: "reading" }, this.input, this.unit);
    const moves = element("div", { class: "moves" }, ...Object.values(this.buttons));
    this.node.append(this.due, this.here, reading, this.said, this.paste, this.pad, moves, this.side);
    this.input.setAttribute("aria-label", "reading");
    this.input.addEventListener("input", () => desk().type(this.input.value));
    this.input.addEventListener("keydown", (event) => this.key(event));
    this.input.addEventListener("paste", (event) => this.pasted(event));
    this.stamp.checked = localStorage.getItem("dialbook stamp") === "yes";
    this.stamp.addEventListener("change", () =>
      localStorage.setItem("dialbook stamp", this.stamp.checked ? "yes" : "no"),
    );
  }

  draw(): void {
    const desk = this.desk();
    const { model, spot, current } = desk;
    const total = model.spots.length;
    const left = total - desk.read;
    this.here.replaceChildren(
      element("b", {}, spot.place),
      element("span", {}, [groupText(desk), spot.where].filter((part) => part !== "").join(", ")),
      element("span", { class: "left" }, `${current + 1} of ${total}, ${left === 0 ? "none" : left} blank`),
    );
    this.drawDue();
    this.input.value = desk.draft?.spot === spot.key ? desk.draft.text : desk.cell();
    this.input.disabled = !desk.isOpen;
    this.pad.hidden = !desk.isOpen;
    // with keys of our own on the screen, those of the system would cover them
    this.input.inputMode = this.pad.offsetParent === null ? "decimal" : "none";
    this.unit.textContent = unitText(model);
    this.say("");
    this.paste.replaceChildren();
    this.buttons.back!.disabled = current === 0;
    this.buttons.blank!.disabled = left === 0;
    this.buttons.undo!.disabled = !desk.history.canUndo;
    this.buttons.redo!.disabled = !desk.history.canRedo;
    this.drawSide();
    if (desk.isOpen && document.activeElement?.closest(".fields, .side, .copy") === null) this.focus();
  }

  focus(): void {
    this.input.focus({ preventScroll: true });
    this.input.select();
  }

  say(sentence: string, kind: "asked" | "refused" | "" = ""): void {
    this.said.textContent = sentence === "" ? "" : `${sentence}.`;
    this.said.className = `said ${kind}`;
  }

  private enter(): void {
    const { units, side } = this.desk().model;
    const stamps = this.stamp.checked && side.time !== undefined && units.time === "clock";
    const entered = this.desk().enter(this.input.value, stamps ? clock(new Date()) : undefined);
    if (entered.is !== "moved") {
      this.say(entered.sentence, entered.is);
      this.focus();
    }
  }

  private key(event: KeyboardEvent): void {
    const desk = this.desk();
    const undoes = (event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "z";
    const redoes = (event.ctrlKey || event.metaKey) && event.key.toLowerCase() === "y";
    if (event.key === "Enter" && !event.shiftKey) this.enter();
    else if (event.key === "ArrowDown") desk.go(desk.current + 1);
    else if (event.key === "ArrowUp" || (event.key === "Enter" && event.shiftKey)) desk.go(desk.current - 1);
    else if (event.key === "Escape") desk.go(desk.current);
    else if (redoes || (undoes && event.shiftKey)) desk.redo();
    // while something is typed, taking back belongs to the field
    else if (undoes && desk.draft === undefined) desk.undo();
    else return;
    event.preventDefault();
  }

  private keypad(): HTMLElement {
    const press = (label: string, act: () => void, name = label) => {
      const made = button(label, act, { "aria-label": name, "data-key": name });
      // the field keeps the focus, so that a keyboard can go on
      made.addEventListener("pointerdown", (event) => event.preventDefault());
      return made;
    };
    const digits = keys.map((key) => press(key, () => this.put(key)));
    return element(
      "div",
      { class: "keypad" },
      ...digits,
      press("⌫", () => this.put("⌫"), "delete"),
      press("Enter", () => this.enter(), "enter"),
    );
  }

  private put(key: string): void {
    const { input } = this;
    const [from, to] = [input.selectionStart ?? 0, input.selectionEnd ?? 0];
    const text = input.value;
    if (key === "±") input.value = /^[-−]/.test(text) ? text.slice(1) : `-${from === to ? text : ""}`;
    else if (key === "⌫") input.value = text.slice(0, from === to ? Math.max(0, from - 1) : from) + text.slice(to);
    else input.value = text.slice(0, from) + (key === "," ? this.desk().model.mark : key) + text.slice(to);
    const at = key === "±" ? input.value.length : Math.max(0, from + (key === "⌫" ? (from === to ? -1 : 0) : 1));
    input.setSelectionRange(at, at);
    this.desk().type(input.value);
    this.say("");
  }

  private drawDue(): void {
    const desk = this.desk();
    const due = desk.due();
    this.due.replaceChildren();
    if (due === undefined) return;
    const count = due.to - due.from;
    const words = `Return to the datums, ${due.number} of ${desk.rounds.length}: ${count} reading${count === 1 ? "" : "s"}`;
    if (isDatum(desk.spot.place) && desk.current >= due.from && desk.current < due.to) {
      this.due.append(`${words}, now at ${nameOf(desk.spot)}`);
      return;
    }
    const blank = desk.firstBlank(due.from);
    this.due.append(
      `${words}, due before going on. `,
      button("Go there", () => desk.go(blank)),
    );
  }

  private drawSide(): void {
    const desk = this.desk();
    const { model } = desk;
    const { side, units } = model;
    const cells = desk.model.text.row(desk.spot.row);
    const field = (cell: "time" | "temperature" | "note", label: string, hint: string) => {
      const at = side[cell];
      if (at === undefined) return [];
      const input = element("input", { type: "text", placeholder: hint, autocomplete: "off", "data-side": cell });
      input.value = cells[at] ?? "";
      input.disabled = !desk.isOpen;
      input.addEventListener("change", () => desk.enterSide(cell, input.value.trim()));
      return [element("label", {}, element("span", {}, label), input)];
    };
    const unit = { degC: "°C", degF: "°F", K: "K" }[units.temperature];
    const stamps =
      desk.isOpen && side.time !== undefined && units.time === "clock"
        ? [element("label", { class: "stamp" }, this.stamp, " write the time with each reading")]
        : [];
    this.side.replaceChildren(
      ...field("time", units.time === "clock" ? "time" : `time/${units.time}`, units.time === "clock" ? "19:05" : ""),
      ...field("temperature", `${model.kind === "rows" ? "temperature" : "table"}/${unit}`, ""),
      ...field("note", "note", "swarf seen, read again …"),
      ...stamps,
    );
  }

  private pasted(event: ClipboardEvent): void {
    const text = event.clipboardData?.getData("text/plain") ?? "";
    if (!isColumn(text)) return;
    event.preventDefault();
    offerColumn(this.paste, this.desk(), text, true);
  }
}

/** "pass 1 of 2"; of rounds that have no number their name alone */
function groupText({ model, spot }: Desk): string {
  const group = groupOf(spot);
  return /\d$/.test(group) ? `${group} of ${model.passes.at(-1)}` : group;
}

function clock(now: Date): string {
  return [now.getHours(), now.getMinutes(), now.getSeconds()].map((n) => String(n).padStart(2, "0")).join(":");
}
