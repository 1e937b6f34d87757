import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { modelOf } from "../../kernel-lib/page/sheet-model.js";
import { roundDue, roundsOf } from "../../kernel-lib/page/sheet-order.js";
import { SheetText } from "../../kernel-lib/src/survey/sheet-text.js";
import { refusal } from "../refusal.js";
import { sample, sampleRows, sampleText } from "./sheet-sample.js";

const dataSheet = (name: string) => modelOf(SheetText.of(readFileSync(`data/${name}`, "utf8"), name));

describe("a sheet as the page shows it", () => {
  it("is typed in the order that its column says, wherever the rows stand", () => {
    const shuffled = [...sampleRows].reverse();
    const order = sample(sampleText(shuffled)).spots.map(({ order }) => order);
    expect(order).toEqual(sampleRows.map((_, i) => i + 1));
    expect(sample().orderSaid).toBe("column");
  });

  it("is typed row by row where no column says the order, as the rows then are the order", () => {
    const rows = ["B1,0,50,,1", "A1,0,0,,1", "A2,40,0,,1"];
    const text = `# relative to: travel\nplace,x/mm,y/mm,z/um,pass\n${rows.join("\n")}\n`;
    expect(sample(text).spots.map(({ place }) => place)).toEqual(["B1", "A1", "A2"]);
    expect(sample(text).orderSaid).toBe("rows");
  });

  it("walks a grid from FRONT, each row back again, the second pass the same way backwards", () => {
    const head = ["# front: y+", "# +x: left", "# +y: front", "# relative to: travel"];
    const block = ["y/mm \\ x/mm z/um,0,10,20", "0,,,", "5,,,"];
    const grid = sample(`${[...head, ...block, "# pass: 2", ...block].join("\n")}\n`);
    const walk = grid.spots.map(({ place, pass }) => `${place}.${pass}`);
    // FRONT is y greatest and x grows to the left: the first place is C2
    expect(walk.slice(0, 6)).toEqual(["C2.1", "B2.1", "A2.1", "A1.1", "B1.1", "C1.1"]);
    expect(walk.slice(6)).toEqual(["C1.2", "B1.2", "A1.2", "A2.2", "B2.2", "C2.2"]);
    expect(grid.orderSaid).toBe("ours");
  });

  it("knows every reading of the sheets in data", () => {
    const blank = dataSheet("blank-sheet.csv");
    expect(blank.spots.length).toBe(142);
    expect(blank.passes).toEqual([1, 2]);
    expect(blank.open).toEqual([
      'blank-sheet.csv: the sheet does not say which gauge was used; write above the heading "# gauge resolution: 1 µm" and "# gauge maximum permissible error: 4 µm", or give a gauge in code',
    ]);
    const grid = dataSheet("corner-check-grid.csv");
    expect(grid.spots.length).toBe(2 * 8 * 6);
    expect(grid.kind).toBe("grid");
    expect(new Set(grid.spots.map(({ key }) => key)).size).toBe(grid.spots.length);
  });

  it("reads slots and holes from the lines, and tells of a line it cannot read", () => {
    expect(sample().outline.slots).toEqual([{ along: "x", span: { fromMm: 20, toMm: 34 } }]);
    expect(sample().outline.holes).toEqual([{ xMm: 30, yMm: 45, radiusMm: 3 }]);
    const odd = sample(sampleText(sampleRows, ["# slot 1: along x, x 20 mm to 34 mm"]));
    expect(odd.outline.unread).toEqual([
      'line 1: "# slot 1: along x, x 20 mm to 34 mm" is not understood; write "# slot 1: along x, y 38 mm to 52 mm"',
    ]);
  });

  it("keeps a sheet open whose lines do not say enough, and says what is missing", () => {
    const model = sample(sampleText(sampleRows, ["# title: x"]));
    expect(model.spots.length).toBe(sampleRows.length);
    expect(model.open.length).toBe(2);
    expect(model.open[0]).toMatch(/^corner.csv: the sheet does not say which way the map lies/);
  });

  it("refuses the sheet of another task, and rows without place or pass", () => {
    expect(refusal(() => dataSheet("positioning-x.csv"))).toEqual({
      code: "no-survey",
      message:
        'positioning-x.csv: its heading "target/mm,direction,run,deviation/um,ti…" is that of a sheet of a positioning test, and this page takes the sheet of a survey (place,x/mm,y/mm,z/um,pass); open the notebook that reads it',
    });
    expect(refusal(() => dataSheet("ladder-x.csv")).message).toMatch(/of small moves/);
    expect(refusal(() => dataSheet("warm-up-spindle.csv")).message).toMatch(/of readings over time/);
    expect(refusal(() => dataSheet("checksums.csv")).code).toBe("heading");
    expect(refusal(() => sample("place,x/mm,y/mm,z/um,pass\nA1,0,0,,x\n"))).toEqual({
      code: "pass",
      message: 'corner.csv line 2: "x" is not a pass; write 1 for the first pass, 2 for the second',
    });
    expect(refusal(() => sample("place,x/mm,y/mm,z/um,pass\n,0,0,,1\n"))).toEqual({
      code: "blank",
      message: 'corner.csv line 2: "" is no name of a place; write one, like C4, or datum 1 for a return',
    });
  });
});

describe("returns to the datums", () => {
  const rounds = roundsOf(sample().spots);

  it("are found in the order of typing", () => {
    expect(rounds).toEqual([
      { number: 1, from: 0, to: 2 },
      { number: 2, from: 8, to: 10 },
      { number: 3, from: 16, to: 18 },
    ]);
  });

  it("are due as soon as the walk reaches them, and stay due when they are walked past", () => {
    const read = (upTo: number, but: readonly number[] = []) =>
      roundDue(rounds, (i) => i <= upTo && !but.includes(i), upTo)?.number;
    expect(read(-1)).toBe(1);
    expect(read(0)).toBe(1);
    expect(read(1)).toBeUndefined();
    expect(read(6)).toBeUndefined();
    expect(read(7)).toBe(2);
    expect(read(12, [8, 9])).toBe(2);
    expect(read(15)).toBe(3);
    expect(read(17)).toBeUndefined();
  });
});
