import { SheetText } from "../src/survey/sheet-text.js";
import { type Change, changeName, editOf, headValue, standing } from "./sheet-changes.js";
import { History } from "./sheet-history.js";
import type { Draft, Journal } from "./sheet-journal.js";
import { difference, merge } from "./sheet-merge.js";
import { cellOf, modelOf, type Spot } from "./sheet-model.js";
import { Saver, type SaveState } from "./sheet-saver.js";
import { Shown } from "./sheet-shown.js";
import { judge, nameOf, unitText } from "./sheet-typed.js";
import type { SheetOnDisk, SheetServer } from "./sheet-wire.js";

/** What the desk tells the page. */
export interface DeskHooks {
  /** something that is shown changed; `all` where rows or lines may be others than before */
  changed(all: boolean): void;
  told(state: SaveState): void;
  saved(): void;
  notice(sentence: string): void;
  later(again: () => void): void;
}

/** What Enter came to. */
export type Entered = { readonly is: "moved" } | { readonly is: "asked" | "refused"; readonly sentence: string };

/** The sheet on the desk: what stands on it, where the person is, what was typed and is not entered yet. */
export class Desk extends Shown {
  current = 0;
  draft: Draft | undefined;
  readonly history = new History();
  readonly saver: Saver;
  private asked: string | undefined;

  constructor(
    readonly disk: SheetOnDisk,
    server: SheetServer,
    private readonly journal: Journal,
    private readonly hooks: DeskHooks,
    /** what earlier pages left behind */
    left: readonly Change[] = [],
    draft?: Draft,
  ) {
    const base = modelOf(SheetText.of(disk.text, disk.name));
    const { keep, clashes } = merge(left, base);
    super(base);
    this.saver = new Saver(
      disk.path,
      server,
      {
        model: (text) => modelOf(SheetText.of(text, disk.name)),
        otherChanged: () => this.otherChanged(),
        told: (state) => {
          this.keep();
          hooks.told(state);
        },
        saved: () => hooks.saved(),
        later: (again) => hooks.later(again),
      },
      base,
      disk.version,
      keep,
    );
    this.saver.clashes = clashes;
    if (keep.length > 0) this.show(modelOf(this.saver.shown));
    this.current = Math.max(0, this.firstBlank());
    const at = draft && this.model.spots.findIndex(({ key }) => key === draft.spot);
    if (draft && at !== undefined && at >= 0) {
      this.current = at;
      this.draft = draft;
    }
  }

  get spot(): Spot {
    return this.model.spots[this.current]!;
  }
  get isOpen(): boolean {
    return this.disk.state === "open";
  }
  override cell(index = this.current): string {
    return super.cell(index);
  }

  /** moves to another reading, or back to this one as it stands; what was typed and not entered is told, not entered */
  go(index: number): void {
    if (this.draft !== undefined) {
      const { text } = this.draft;
      if (index !== this.current) {
        this.hooks.notice(
          `${nameOf(this.spot)}: ${JSON.stringify(text)} was typed and left without Enter; the sheet does not hold it`,
        );
      }
      this.type(undefined);
    }
    this.asked = undefined;
    this.current = Math.min(Math.max(index, 0), this.model.spots.length - 1);
    this.hooks.changed(false);
  }

  /** every keystroke; undefined where nothing is typed that is not entered */
  type(text: string | undefined): void {
    this.draft = text === undefined || text === this.cell() ? undefined : { spot: this.spot.key, text };
    if (text !== this.asked) this.asked = undefined;
    this.keep();
  }

  /** Enters what is typed and moves on; a doubtful reading is asked about once, and kept at the second Enter. */
  enter(typed: string, time?: string): Entered {
    const judged = judge(typed, this.current, this.model, this.heights);
    if (judged.is === "refused") return judged;
    const was = this.cell();
    const sentence = judged.is === "asked" && judged.cell !== was ? judged.sentence : this.blankedOut(judged.cell, was);
    if (sentence !== undefined && this.asked !== typed) {
      this.asked = typed;
      return { is: "asked", sentence: `${sentence}. Enter once more keeps it as typed` };
    }
    this.draft = undefined;
    if (judged.cell !== was) this.write([this.change("reading", judged.cell), ...this.stamp(judged.cell, time)]);
    this.go(this.current + 1);
    return { is: "moved" };
  }

  /** a cell beside the reading */
  enterSide(cell: "time" | "temperature" | "note", to: string): void {
    const change = this.change(cell, to);
    if (change.was !== to) this.write([change]);
  }

  enterHead(head: string, to: string): void {
    const was = headValue(this.model.text, head);
    if (was !== to) this.write([{ head, was, to }]);
  }

  enterColumn(cells: readonly { readonly index: number; readonly cell: string }[]): void {
    const changes = cells.map(({ index, cell }) => {
      const spot = this.model.spots[index]!;
      return { spot: spot.key, cell: "reading", was: cellOf(this.model, spot), to: cell } as const;
    });
    this.draft = undefined;
    this.write(changes.filter(({ was, to }) => was !== to));
    this.go(Math.max(...cells.map(({ index }) => index)) + 1);
  }

  undo(): void {
    this.again(this.history.undo());
  }
  redo(): void {
    this.again(this.history.redo());
  }

  /** the file as somebody else left it */
  takeIn(disk: SheetOnDisk): void {
    if (this.saver.takeIn(disk)) void this.saver.send();
  }

  /** the person said which of two readings stands */
  settled(): void {
    this.show(modelOf(this.saver.shown));
    this.keep();
    this.hooks.changed(true);
  }

  keep(): void {
    const changes = [...this.saver.clashes.map(({ mine }) => mine), ...this.saver.pending];
    const sentence = this.journal.keep({ changes, draft: this.draft });
    if (sentence !== undefined) this.hooks.notice(sentence);
  }

  private change(cell: "reading" | "time" | "temperature" | "note", to: string): Change {
    const blank: Change = { spot: this.spot.key, cell, was: "", to };
    return { ...blank, was: standing(blank, this.model, this.index) ?? "" };
  }

  private stamp(cell: string, time: string | undefined): readonly Change[] {
    if (time === undefined || this.model.side.time === undefined) return [];
    const change = this.change("time", cell === "" ? "" : time);
    return change.was === change.to ? [] : [change];
  }

  private blankedOut(cell: string, was: string): string | undefined {
    return cell === "" && was !== ""
      ? `${nameOf(this.spot)} has a reading, ${was} ${unitText(this.model)}, and would be left blank`
      : undefined;
  }

  /** puts changes back or in again, except where somebody else wrote meanwhile */
  private again(step: readonly Change[] | undefined): void {
    if (step === undefined) return;
    const fits = step.filter((change) => standing(change, this.model, this.index) === change.was);
    const rest = step.filter((change) => !fits.includes(change));
    if (rest.length > 0) {
      this.hooks.notice(`${changeName(rest[0]!)} was changed by somebody else meanwhile and stays as it is`);
    }
    this.lay(fits);
    const at = this.model.spots.findIndex(({ key }) => key === step.at(-1)?.spot);
    this.go(at < 0 ? this.current : at);
  }

  private write(changes: readonly Change[]): void {
    if (changes.length === 0) return;
    this.history.push(changes);
    this.lay(changes);
  }

  private lay(changes: readonly Change[]): void {
    const edits = changes.flatMap((change) => editOf(change, this.model, this.index) ?? []);
    const text = this.model.text.edited(edits);
    const isHead = changes.some(({ head }) => head !== undefined);
    if (isHead) this.show(modelOf(text));
    else this.showCells(text, new Set(changes.flatMap(({ spot }) => spot ?? [])));
    this.saver.add(changes);
    this.keep();
    this.hooks.changed(isHead);
  }

  private otherChanged(): void {
    const key = this.spot.key;
    const before = this.model;
    this.show(modelOf(this.saver.shown));
    const names = difference(before, this.model).map(changeName);
    const at = this.model.spots.findIndex((spot) => spot.key === key);
    this.current = Math.max(0, at);
    const listed =
      names.length <= 5 ? names.join("; ") : `${names.slice(0, 5).join("; ")} and ${names.length - 5} more`;
    if (names.length > 0) this.hooks.notice(`somebody else changed this sheet, and it is shown here: ${listed}`);
    this.hooks.changed(true);
  }
}
