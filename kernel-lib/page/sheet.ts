import { MeasurementError } from "../src/measurement-error.js";
import { button, element } from "./dom.js";
import { Desk } from "./sheet-desk.js";
import { SheetEntry } from "./sheet-entry.js";
import { fetchServer, ServerRefusal } from "./sheet-fetch.js";
import { headFields } from "./sheet-head.js";
import { Journal } from "./sheet-journal.js";
import { leftBehind } from "./sheet-left.js";
import { SheetList } from "./sheet-list.js";
import { SheetMap } from "./sheet-map.js";
import { notice, noticeNodes, noticesAbout, saveWords } from "./sheet-notices.js";
import type { SaveState } from "./sheet-saver.js";
import { verdictNode } from "./sheet-verdict.js";
import type { HealthOnDisk } from "./sheet-wire.js";
import { lookButton, wearLook } from "./theme.js";
import "./sheet.css";

/** how long to wait before sending again, looking for somebody else's changes, and asking for the verdict, in ms */
const wait = { send: 2000, look: 4000, verdict: 300, verdictOfLarge: 2500 };

const path = new URLSearchParams(location.search).get("path") ?? "";

/** The page of one sheet. */
class SheetPage {
  private readonly saved = element("span", { class: "saved", role: "status" });
  private readonly notices = element("div", { class: "notices" });
  private readonly told = element("div", { class: "notices" });
  private readonly head = element("details", { class: "head" });
  private readonly verdict = element("div", {});
  private readonly map: SheetMap;
  private readonly list: SheetList;
  private readonly entry: SheetEntry;
  private state: SaveState = { is: "saved" };
  /** what the notices that stand are about */
  private toldAbout: readonly unknown[] = [];
  private health: HealthOnDisk | undefined;
  private verdictTimer: ReturnType<typeof setTimeout> | undefined;
  private asking = false;

  constructor(make: (page: SheetPage) => Desk) {
    this.desk = make(this);
    const go = (index: number) => this.desk.go(index);
    this.map = new SheetMap(() => this.desk, go);
    this.list = new SheetList(() => this.desk, go);
    this.entry = new SheetEntry(() => this.desk);
  }

  desk: Desk;

  /** puts the page together; afterwards `changed` keeps it true */
  open(): void {
    const { name, notebooks } = this.desk.disk;
    const links = notebooks.map((notebook) =>
      element("a", { href: `/notebook?path=${encodeURIComponent(notebook)}` }, notebook.split("/").at(-1)!),
    );
    const readers =
      links.length > 0
        ? ["read by", ...links.flatMap((link) => [" ", link])]
        : [`no notebook reads it yet: readSurvey("../${this.desk.disk.path}")`];
    const state = this.desk.isOpen ? "open sheet" : this.desk.disk.state;
    const top = element(
      "header",
      { class: "top" },
      element("a", { href: "/" }, "All files"),
      element("h1", {}, name),
      element("span", { class: "soft" }, state),
      this.saved,
      element("span", { class: "readers" }, ...readers),
      lookButton(),
    );
    const map = element("section", { class: "map" }, this.map.canvas);
    // only a survey has places on a map
    const isSurvey = this.desk.model.kind !== "rows";
    map.hidden = !isSurvey;
    const desk = element(
      "main",
      { class: isSurvey ? "desk" : "desk rows" },
      map,
      this.entry.node,
      this.list.node,
      this.verdict,
    );
    document.body.replaceChildren(top, this.notices, this.told, this.head, desk);
    new ResizeObserver(() => this.map.draw()).observe(map);
    new MutationObserver(() => this.map.draw()).observe(document.documentElement, { attributeFilter: ["data-look"] });
    setInterval(() => void this.look(), wait.look);
    this.changed(true);
    this.tell(this.state);
    void this.ask();
    void this.desk.saver.send();
  }

  changed(all: boolean): void {
    if (this.entry === undefined) return;
    if (all) this.drawHead();
    this.entry.draw();
    this.map.draw();
    this.list.follow();
  }

  tell(state: SaveState): void {
    this.state = state;
    this.saved.textContent = saveWords(this.desk, state);
    this.saved.dataset.state = state.is;
    const about = noticesAbout(this.desk, state);
    if (about.length !== this.toldAbout.length || about.some((one, i) => one !== this.toldAbout[i])) {
      this.toldAbout = about;
      this.told.replaceChildren(...noticeNodes(this.desk, state, fetchServer));
    }
    this.list?.draw();
  }

  say(sentence: string): void {
    const node = notice(
      `${sentence}.`,
      button("Read", () => node.remove()),
    );
    this.notices.append(node);
  }

  /** the verdict follows the readings, not every one of them while they come quickly */
  judgeSoon(): void {
    clearTimeout(this.verdictTimer);
    const isLarge = this.desk.model.spots.length > 2000;
    this.verdictTimer = setTimeout(() => void this.ask(), isLarge ? wait.verdictOfLarge : wait.verdict);
  }

  private async ask(): Promise<void> {
    if (this.asking) return this.judgeSoon();
    this.asking = true;
    try {
      this.health = await fetchServer.health(path);
    } catch {
      // the line of saving says that the server is away; the verdict stays that of the last readings
    }
    this.asking = false;
    this.drawVerdict();
  }

  /** what says the same stays the element it is: its buttons may be pressed just now */
  private drawVerdict(): void {
    const says = JSON.stringify([{ ...this.health, version: "" }, this.desk.read < this.desk.model.spots.length]);
    if (says === this.verdict.dataset.says) return;
    this.verdict.dataset.says = says;
    this.verdict.replaceChildren(verdictNode(this.desk, this.health, (place) => this.goTo(place)));
  }

  private goTo(place: string): void {
    const { spots } = this.desk.model;
    const here = this.desk.spot;
    const index = spots.findIndex((spot) => spot.place === place && spot.pass === here.pass);
    this.desk.go(index >= 0 ? index : spots.findIndex((spot) => spot.place === place));
  }

  private async look(): Promise<void> {
    if (document.hidden || this.state.is === "saving" || this.desk.saver.pending.length > 0) return;
    const newer = await fetchServer.newer(path, this.desk.saver.version).catch(() => undefined);
    if (newer === undefined || this.desk.saver.pending.length > 0 || newer.version === this.desk.saver.version) return;
    this.desk.takeIn(newer);
    this.judgeSoon();
  }

  private drawHead(): void {
    const { summary, node } = headFields(this.desk);
    const inside = document.activeElement instanceof HTMLElement ? document.activeElement.dataset.head : undefined;
    this.head.replaceChildren(element("summary", {}, summary), node);
    if (inside !== undefined) this.head.querySelector<HTMLElement>(`[data-head="${CSS.escape(inside)}"]`)?.focus();
  }
}

async function start(): Promise<void> {
  wearLook();
  try {
    const disk = await fetchServer.load(path);
    const journal = new Journal(localStorage, path, crypto.randomUUID());
    const left = await leftBehind(journal);
    const page: SheetPage = new SheetPage((page) => {
      const hooks = {
        changed: (all: boolean) => page.changed(all),
        told: (state: SaveState) => page.tell(state),
        saved: () => page.judgeSoon(),
        notice: (sentence: string) => page.say(sentence),
        later: (again: () => void) => setTimeout(again, wait.send),
      };
      return new Desk(disk, fetchServer, journal, hooks, left.changes, left.draft);
    });
    page.open();
    page.desk.keep();
    left.forget();
    if (left.sentence !== undefined) page.say(left.sentence);
  } catch (error) {
    if (!(error instanceof MeasurementError || error instanceof ServerRefusal)) throw error;
    document.body.replaceChildren(
      element("header", { class: "top" }, element("a", { href: "/" }, "All files")),
      element(
        "main",
        { class: "refused" },
        element("h1", {}, "This can't be typed into"),
        element("p", {}, `${error.message}.`),
      ),
    );
  }
}

void start();
