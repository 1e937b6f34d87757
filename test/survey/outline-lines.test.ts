import { describe, expect, it } from "vitest";
import { outlineLines, readOutlineLines } from "../../kernel-lib/src/survey/preamble-outline.js";

const said = (lines: { readonly [key: string]: string }) =>
  readOutlineLines(Object.entries(lines).map(([key, value], i) => ({ key, value, line: i + 1 })));
const nothing = { table: {}, travel: {}, slots: [], holes: [], obstacles: [], unread: [] };

describe("the lines that say what the table looks like", () => {
  it("are written with the unit at every figure, and read again", () => {
    const outline = {
      table: { x: { fromMm: -10, toMm: 480.5 }, y: { fromMm: 0, toMm: 170 } },
      travel: {},
      slots: [
        { along: "x" as const, span: { fromMm: 38, toMm: 52 } },
        { along: "y" as const, span: { fromMm: 100, toMm: 112 } },
      ],
      holes: [{ xMm: 260, yMm: 120.5, radiusMm: 6.35 }],
      obstacles: [{ name: "vice,  left\ton", x: { fromMm: 10, toMm: 90 }, y: { fromMm: 20, toMm: 80 } }],
    };
    const lines = outlineLines(outline);
    expect(lines).toEqual([
      ["table x", "-10 mm to 480.5 mm"],
      ["table y", "0 mm to 170 mm"],
      ["slot 1", "along x, y 38 mm to 52 mm"],
      ["slot 2", "along y, x 100 mm to 112 mm"],
      ["hole 1", "x 260 mm, y 120.5 mm, diameter 12.7 mm"],
      ["obstacle 1", "vice left on, x 10 mm to 90 mm, y 20 mm to 80 mm"],
    ]);
    expect(said(Object.fromEntries(lines))).toEqual({
      ...outline,
      obstacles: [{ ...outline.obstacles[0]!, name: "vice left on" }],
      unread: [],
    });
  });

  it("say nothing where they say nothing", () => {
    expect(said({})).toEqual(nothing);
    expect(
      said({ "table x": "", "slot 1": "", title: "slot 1", "slot one": "x", "a slot 1": "x", "slot 1 b": "x" }),
    ).toEqual(nothing);
  });

  it("give each span to its own axis, the unit at both ends or at the last", () => {
    expect(said({ "travel x": "0 to 520 mm", "travel y": "5 mm to 23 cm" }).travel).toEqual({
      x: { fromMm: 0, toMm: 520 },
    });
    expect(said({ "table x": "0.5 in to 1 in", "table y": "-2  to  3 in" }).table).toEqual({
      x: { fromMm: 12.7, toMm: 25.4 },
      y: { fromMm: expect.closeTo(-50.8, 9), toMm: expect.closeTo(76.2, 9) },
    });
    expect(said({ "travel y": "0 µm to 900 µm" })).toEqual({
      ...nothing,
      travel: { y: { fromMm: 0, toMm: expect.closeTo(0.9, 12) } },
    });
    expect(said({ "table y": '0 to 2"' }).table).toEqual({ y: { fromMm: 0, toMm: expect.closeTo(50.8, 9) } });
  });

  it("are told and left out where they are not understood", () => {
    const { unread, ...rest } = said({
      "table x": "wide",
      "table y": "9 mm to 9 mm",
      "travel x": "9 mm to 3 mm",
      "travel y": "0 mm to far",
      "slot 1": "along x, x 3 mm to 9 mm",
      "slot 2": "along z, x 3 mm to 9 mm",
      "slot 3": "along y, x 9 mm to 3 mm",
      "slot 4": "so along y, x 3 mm to 9 mm",
      "hole 1": "x 3 mm, y 4 mm",
      "hole 2": "x 3 mm, y 4 mm, diameter 0 mm",
      "hole 3": "x 3 mm, y 4 mm, diameter -2 mm",
      "hole 4": "x 3 mm, y wide, diameter 2 mm",
      "hole 5": "x far, y 4 mm, diameter 2 mm",
      "hole 6": "x 3 mm, y 4 mm, diameter 2 mm, deep",
      "hole 7": "at x 3 mm, y 4 mm, diameter 2 mm",
      "obstacle 1": "vice, x 1 mm to 9 mm",
      "obstacle 2": "vice, x 9 mm to 1 mm, y 1 mm to 9 mm",
      "obstacle 3": "vice, x 1 mm to 9 mm, y 9 mm to 1 mm",
      "obstacle 4": "vice, x 1 mm to 9 mm, y 1 mm to 9 mm, z 3 mm",
    });
    expect(rest).toEqual({ table: {}, travel: {}, slots: [], holes: [], obstacles: [] });
    expect(unread).toHaveLength(19);
    expect([0, 3, 4, 8, 15].map((i) => unread[i === 3 ? 2 : i])).toEqual([
      'line 1: "# table x: wide" is not understood; write "# table x: 0 mm to 520 mm"',
      'line 3: "# travel x: 9 mm to 3 mm" is not understood; write "# travel x: 0 mm to 520 mm"',
      'line 5: "# slot 1: along x, x 3 mm to 9 mm" is not understood; write "# slot 1: along x, y 38 mm to 52 mm"',
      'line 9: "# hole 1: x 3 mm, y 4 mm" is not understood; write "# hole 1: x 260 mm, y 120 mm, diameter 12 mm"',
      'line 16: "# obstacle 1: vice, x 1 mm to 9 mm" is not understood; write "# obstacle 1: vice, x 10 mm to 90 mm, y 20 mm to 80 mm"',
    ]);
  });

  it("take blanks as they come, and many slots by their number", () => {
    expect(said({ "slot 12": "along y , x 3 mm to 9 mm" }).slots).toEqual([
      { along: "y", span: { fromMm: 3, toMm: 9 } },
    ]);
    expect(said({ "hole 10": "x 3 mm,y 4 mm,diameter 2 mm" }).holes).toEqual([{ xMm: 3, yMm: 4, radiusMm: 1 }]);
    expect(said({ "obstacle 10": "vice,x 1 mm to 9 mm,y 2 mm to 8 mm" }).obstacles).toEqual([
      { name: "vice", x: { fromMm: 1, toMm: 9 }, y: { fromMm: 2, toMm: 8 } },
    ]);
    // at the very edge of the coordinates
    expect(said({ "hole 1": "x 0 mm, y 0 mm, diameter 2 mm" }).holes).toEqual([{ xMm: 0, yMm: 0, radiusMm: 1 }]);
  });
});
