import { describe, expect, it } from "vitest";
import type { Change } from "../../kernel-lib/page/sheet-changes.js";
import { History } from "../../kernel-lib/page/sheet-history.js";
import { Journal, type Shelf } from "../../kernel-lib/page/sheet-journal.js";
import { difference, merge } from "../../kernel-lib/page/sheet-merge.js";
import { modelOf } from "../../kernel-lib/page/sheet-model.js";
import { Saver, type SaveState } from "../../kernel-lib/page/sheet-saver.js";
import type { SaveAnswer, SheetServer } from "../../kernel-lib/page/sheet-wire.js";
import { type SheetEdit, SheetText } from "../../kernel-lib/src/survey/sheet-text.js";
import { filled, sample, sampleRows, sampleText } from "./sheet-sample.js";

const model = (text: string) => modelOf(SheetText.of(text, "corner.csv"));
const reading = (place: string, pass: number, was: string, to: string): Change => ({
  spot: JSON.stringify([place, pass, 1]),
  cell: "reading",
  was,
  to,
});

/** a server that holds one file in memory; `away` makes it silent, `deaf` loses its answer after it has written */
class Bench implements SheetServer {
  version = 1;
  saves = 0;
  mood: "well" | "away" | "deaf" = "well";

  constructor(public text: string) {}

  async load(path: string) {
    const { text } = this;
    return { path, name: "corner.csv", version: String(this.version), state: "open", text, notebooks: [] };
  }
  async newer(path: string, version: string) {
    return version === String(this.version) ? undefined : this.load(path);
  }
  async save(path: string, base: string, edits: readonly SheetEdit[]): Promise<SaveAnswer> {
    await Promise.resolve();
    if (this.mood === "away") return { is: "away", sentence: "the server does not answer" };
    if (base !== String(this.version)) return { is: "changed", disk: await this.load(path) };
    this.write(SheetText.of(this.text, "corner.csv").edited(edits).text);
    this.saves++;
    if (this.mood === "deaf") return { is: "away", sentence: "the answer was lost" };
    return { is: "saved", version: String(this.version) };
  }
  async health() {
    return { version: String(this.version), findings: [] };
  }
  async copy() {
    return "";
  }
  write(text: string) {
    this.text = text;
    this.version++;
  }
}

function open(bench: Bench) {
  const told: SaveState[] = [];
  const later: (() => void)[] = [];
  const saver = new Saver(
    "data/corner.csv",
    bench,
    {
      model,
      otherChanged: () => {},
      told: (state) => told.push(state),
      saved: () => {},
      later: (again) => later.push(again),
    },
    model(bench.text),
    String(bench.version),
    [],
  );
  const settled = async () => {
    for (let i = 0; i < 50; i++) await Promise.resolve();
  };
  return { saver, told, later, settled };
}

describe("saving", () => {
  it("writes every entry, one request at a time, those that came meanwhile together", async () => {
    const bench = new Bench(sampleText());
    const { saver, told, settled } = open(bench);
    for (const [i, place] of ["A1", "A2", "A3"].entries()) saver.add([reading(place, 1, "", String(i))]);
    await settled();
    expect(bench.saves).toBe(2);
    expect(bench.text).toBe(
      sampleText()
        .replace("A1,0,0,,1", "A1,0,0,0,1")
        .replace("A2,40,0,,1", "A2,40,0,1,1")
        .replace("A3,80,0,,1", "A3,80,0,2,1"),
    );
    expect(told.at(-1)).toEqual({ is: "saved" });
    expect(saver.pending).toEqual([]);
  });

  it("keeps what is typed while the server is away and sends it when it is back", async () => {
    const bench = new Bench(sampleText());
    const { saver, told, later, settled } = open(bench);
    bench.mood = "away";
    saver.add([reading("A1", 1, "", "5")]);
    saver.add([reading("A2", 1, "", "6")]);
    await settled();
    expect(told.at(-1)).toEqual({ is: "kept", sentence: "the server does not answer" });
    expect(saver.pending.length).toBe(2);
    expect(saver.shown.row(2)[3]).toBe("5");
    bench.mood = "well";
    later.shift()!();
    await settled();
    expect(bench.text).toBe(sampleText().replace("A1,0,0,,1", "A1,0,0,5,1").replace("A2,40,0,,1", "A2,40,0,6,1"));
  });

  it("writes nothing twice where the server wrote and its answer was lost", async () => {
    const bench = new Bench(sampleText());
    const { saver, later, settled } = open(bench);
    bench.mood = "deaf";
    saver.add([reading("A1", 1, "", "5")]);
    await settled();
    bench.mood = "well";
    saver.add([reading("A2", 1, "", "6")]);
    later.shift()!();
    await settled();
    expect(saver.clashes).toEqual([]);
    expect(saver.pending).toEqual([]);
    expect(bench.saves).toBe(2);
    expect(model(bench.text).text.row(2)[3]).toBe("5");
    expect(model(bench.text).text.row(3)[3]).toBe("6");
  });

  it("keeps both readings where two people wrote the same place, until the person says which stands", async () => {
    const bench = new Bench(sampleText());
    const { saver, told, settled } = open(bench);
    bench.write(sampleText().replace("A1,0,0,,1", "A1,0,0,9,1").replace("A3,80,0,,1", "A3,80,0,3,1"));
    saver.add([reading("A1", 1, "", "5"), reading("A2", 1, "", "6")]);
    await settled();
    // the place that only one wrote is in the file, the other's too
    expect(model(bench.text).text.row(3)[3]).toBe("6");
    expect(model(bench.text).text.row(4)[3]).toBe("3");
    expect(model(bench.text).text.row(2)[3]).toBe("9");
    expect(told.at(-1)).toEqual({ is: "clash", clashes: saver.clashes });
    expect(saver.clashes).toEqual([{ mine: reading("A1", 1, "", "5"), theirs: "9" }]);
    saver.settle(saver.clashes[0]!, "mine");
    await settled();
    expect(model(bench.text).text.row(2)[3]).toBe("5");
    expect(saver.clashes).toEqual([]);
  });

  it("keeps everything where the other made the file no sheet any more, and goes on when it is put right", async () => {
    const bench = new Bench(sampleText());
    const { saver, told, settled } = open(bench);
    bench.write("# title: x\n");
    saver.add([reading("A1", 1, "", "5")]);
    await settled();
    expect(told.at(-1)).toEqual({
      is: "stuck",
      sentence:
        "the file was changed by somebody else and is no sheet any more (corner.csv: holds no heading; write place,x/mm,y/mm,z/um,pass and a row for each reading); what is shown here is kept",
    });
    expect(saver.pending.length).toBe(1);
    bench.write(sampleText());
    expect(saver.takeIn(await bench.load("data/corner.csv"))).toBe(true);
    await saver.send();
    expect(model(bench.text).text.row(2)[3]).toBe("5");
  });

  it("finds a reading again where the other moved the rows, and loses none whose row is gone", () => {
    const rows = [...sampleRows].reverse().filter((row) => !row.startsWith("A2"));
    const { keep, clashes } = merge([reading("A1", 1, "", "5"), reading("A2", 1, "", "6")], sample(sampleText(rows)));
    expect(keep).toEqual([reading("A1", 1, "", "5")]);
    expect(clashes).toEqual([{ mine: reading("A2", 1, "", "6"), theirs: undefined }]);
  });

  it("names what another person changed, lines above the heading too", () => {
    const now = model(filled([1, 2, 3]).text.edited([{ head: "vice", to: "off" }]).text);
    expect(difference(sample(), now)).toEqual([
      { head: "vice", was: "", to: "off" },
      { spot: '["datum 1",1,1]', cell: "reading", was: "", to: "1" },
      { spot: '["datum 1",1,2]', cell: "reading", was: "", to: "2" },
      { spot: '["A1",1,1]', cell: "reading", was: "", to: "3" },
    ]);
  });
});

class Memory implements Shelf {
  private readonly items = new Map<string, string>();
  full = false;
  get length() {
    return this.items.size;
  }
  key(i: number) {
    return [...this.items.keys()][i] ?? null;
  }
  getItem(key: string) {
    return this.items.get(key) ?? null;
  }
  setItem(key: string, value: string) {
    if (this.full) throw new Error("QuotaExceededError");
    this.items.set(key, value);
  }
  removeItem(key: string) {
    this.items.delete(key);
  }
}

describe("the journal of a page", () => {
  const changes = [reading("A1", 1, "", "5")];
  const draft = { spot: '["A2",1,1]', text: "1" };

  it("gives a later page what an earlier one left, and is empty when all is saved", () => {
    const shelf = new Memory();
    const first = new Journal(shelf, "data/corner.csv", "one");
    first.keep({ changes, draft });
    const second = new Journal(shelf, "data/corner.csv", "two");
    expect(second.others()).toEqual(["one"]);
    expect(second.left("one")).toEqual({ changes, draft });
    expect(new Journal(shelf, "data/other.csv", "two").others()).toEqual([]);
    first.keep({ changes: [], draft: undefined });
    expect(second.others()).toEqual([]);
    expect(shelf.length).toBe(0);
  });

  it("says so where the browser keeps nothing, and takes nothing from what is none of ours", () => {
    const shelf = new Memory();
    const journal = new Journal(shelf, "data/corner.csv", "one");
    shelf.setItem("dialbook sheet data/corner.csv two", '{"changes":[{"head":"x","was":1,"to":"2"}],"draft":7}');
    shelf.setItem("dialbook sheet data/corner.csv three", "no JSON");
    expect(journal.left("two")).toEqual({ changes: [], draft: undefined });
    expect(journal.left("three")).toBeUndefined();
    shelf.full = true;
    expect(journal.keep({ changes, draft: undefined })).toBe(
      "the browser keeps no copy of what is typed (its storage is full or switched off); do not close this page before all is saved",
    );
  });
});

describe("undo", () => {
  it("takes steps back in turn, whole pasted columns at once, and puts them in again", () => {
    const history = new History();
    history.push([reading("A1", 1, "", "5")]);
    history.push([reading("A2", 1, "", "6"), reading("A3", 1, "", "7")]);
    expect(history.undo()).toEqual([reading("A3", 1, "7", ""), reading("A2", 1, "6", "")]);
    expect(history.redo()).toEqual([reading("A2", 1, "", "6"), reading("A3", 1, "", "7")]);
    history.undo();
    history.undo();
    expect(history.canUndo).toBe(false);
    expect(history.undo()).toBeUndefined();
    history.push([reading("B1", 1, "", "8")]);
    expect(history.canRedo).toBe(false);
  });
});
