import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { cellOf, modelOf } from "../../kernel-lib/page/sheet-model.js";
import { roundDue, roundsOf } from "../../kernel-lib/page/sheet-order.js";
import { judge, nameOf } from "../../kernel-lib/page/sheet-typed.js";
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

  it.each([
    ["positioning-x.csv", 110, ["21.3 mm ▲, run 1", "21.3 mm ▼, run 1"], [1, 2, 3, 4, 5]],
    ["ladder-z-pulled.csv", 25, ["no. 1, 0 µm", "no. 25, 0 µm"], [1]],
    ["sweep-head.csv", 16, ["0°, turn 1", "315°, turn 2"], [1, 2]],
    ["square-y-to-x.csv", 28, ["first leg, 10 mm, as laid", "second leg, 190 mm, turned over"], [1, 2]],
    ["gauge-one-evening.csv", 30, ["A7, round 1", "F13, round 3"], [1, 2, 3]],
    ["gauge-three-days.csv", 90, ["A7, Saturday 10th, round 1"], [1, 2, 3]],
    ["gauge-lever.csv", 16, ["flat, round 1", "inclined, round 8"], [1, 2, 3, 4, 5, 6, 7, 8]],
  ] as const)(
    "knows every reading of %s, which is none of a survey, by the name a person has for it",
    (file, count, names, passes) => {
      const model = dataSheet(file);
      expect([model.kind, model.spots.length, model.open]).toEqual(["rows", count, []]);
      expect(model.spots.map(nameOf)).toEqual(expect.arrayContaining([...names]));
      expect(new Set(model.spots.map(({ key }) => key)).size).toBe(count);
      expect(model.passes).toEqual(passes);
      expect(model.spots.every((spot) => /^-?\d+(\.\d+)?$/.test(cellOf(model, spot)))).toBe(true);
    },
  );

  it("takes a reading of a positioning test in its order, held against the same target in another run", () => {
    const head = [
      "# gauge resolution: 1 um",
      "# gauge maximum permissible error: 3 um",
      "# gauge range per turn: 0.2 mm",
    ];
    const rows = [
      "target/mm,direction,run,deviation/um,order,note",
      "10,up,1,3,1,",
      "10,down,1,9,2,",
      "10,up,2,,3,",
      "10,down,2,,4,",
    ];
    const model = modelOf(SheetText.of([...head, ...rows, ""].join("\n"), "x.csv"));
    const heights = [3, 9, Number.NaN, Number.NaN];
    expect(judge("4", 2, model, heights)).toEqual({ is: "taken", cell: "4" });
    expect(judge("204", 2, model, heights)).toEqual({
      is: "asked",
      cell: "204",
      sentence:
        "10 mm ▲: 204 µm stands 201 µm above its reading in run 1, close to a whole turn of the pointer (200 µm); read the turn counter again",
    });
  });

  it("refuses the sheet of another task, and rows without place or pass", () => {
    expect(refusal(() => dataSheet("levels-table.csv"))).toEqual({
      code: "no-survey",
      message:
        'levels-table.csv: its heading "line,step,direction,reading/div,note" is that of a sheet of levels, and this page takes one gauge reading a row; fill it in with a spreadsheet or an editor, and open the notebook that reads it',
    });
    expect(refusal(() => modelOf(SheetText.of("target/mm,direction,run,deviation\n0,up,1,\n", "x.csv")))).toEqual({
      code: "heading",
      message:
        'x.csv: the heading "target/mm,direction,run,deviation" of a positioning test has no column of readings with a unit of length; write deviation/um',
    });
    expect(refusal(() => modelOf(SheetText.of("angle/deg,reading/um\n", "x.csv")))).toEqual({
      code: "empty-sheet",
      message: "x.csv: no row follows the heading; write a row for each reading",
    });
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
