import { describe, expect, it } from "vitest";
import { parsePositioning } from "../../kernel-lib/src/axis/positioning-sheet.js";
import { refusal } from "../refusal.js";

const preamble = [
  "# axis: X",
  "# gauge resolution: 1 µm",
  "# gauge maximum permissible error: 3 µm",
  "# gauge range per turn: 0.2 mm",
  "# reference: gauge blocks",
];
const heading = "target/mm,direction,run,deviation/um";
/** two runs over three targets, 0, 2, 4 µm up and 9 more down */
const rows = [1, 2].flatMap((run) => [
  ...[0, 40, 80].map((at) => `${at},up,${run},${at / 20}`),
  ...[80, 40, 0].map((at) => `${at},down,${run},${at / 20 + 9}`),
]);
const sheet = (body: readonly string[], head = preamble, columns = heading) => [...head, columns, ...body].join("\n");
const read = (text: string) => parsePositioning(text, { name: "x.csv" });

describe("a sheet of a positioning test", () => {
  it("is read in its order, with targets and runs", () => {
    const test = read(sheet(rows));
    expect([test.axis, test.targetsMm, test.runs]).toEqual(["X", [0, 40, 80], 2]);
    expect(test.deviations(2, "down").map((d) => d.in("um"))).toEqual([13, 13]);
  });

  it("reads positions of a scale, inches, and blocks that are longer than their nominal", () => {
    const positions = rows.map((row) => {
      const [target, direction, run, um] = row.split(",");
      return `${target},${direction},${run},${(Number(target) + Number(um) / 1000 - 0.001).toFixed(4)},0.001`;
    });
    const test = read(sheet(positions, preamble, "target/mm,direction,run,position/mm,reference/mm"));
    expect(test.deviations(1, "up")[0]!.in("um")).toBeCloseTo(2, 9);
    const inch = read(sheet(rows, preamble, "target/mm,direction,run,deviation/tenth"));
    expect(inch.deviations(1, "up")[0]!.in("um")).toBeCloseTo(2 * 2.54, 9);
  });

  it("turns the sign where the gauge reads minus", () => {
    const test = read(sheet(rows, [...preamble, "# positive: surface stands low"]));
    expect(test.deviations(2, "up")[0]!.in("um")).toBe(-4);
  });
});

describe("is refused", () => {
  const cases: readonly (readonly [what: string, text: string, code: string, message: string])[] = [
    [
      "targets out of order",
      sheet([rows[1]!, rows[0]!, ...rows.slice(2)]),
      "targets-out-of-order",
      "x.csv line 8: target 0 mm comes after 40 mm in run 1, up; targets must rise on the way up, or the approach is not what the sheet says",
    ],
    [
      "one direction missing",
      sheet(rows.filter((row) => row.includes("up"))),
      "one-direction",
      "x.csv: all 6 readings were approached upwards; read every target from the other side too, as lost motion shows in no other way",
    ],
    [
      "unequal runs",
      sheet(rows.slice(0, -1)),
      "unequal-runs",
      "x.csv: target 0 mm has 1 reading down and there are 2 runs; read what is missing, or leave the run out everywhere",
    ],
    [
      "a single run",
      sheet(rows.slice(0, 6)),
      "single-run",
      "x.csv: there is one run; a scatter needs two at least each way, the standard asks for five",
    ],
    [
      "a gauge rolled over",
      sheet([...rows.slice(0, 7), "40,up,2,203", ...rows.slice(8)]),
      "rolled-over",
      "x.csv line 14: 203 µm at 40 mm, up, stands about one turn of the pointer (200 µm each) from 2 µm of another run; the small hand was missed in one of them: read it again, or write the whole reading",
    ],
    [
      "a gauge rolled over more than once",
      sheet([...rows.slice(0, 7), "40,up,2,-398", ...rows.slice(8)]),
      "rolled-over",
      "x.csv line 8: 2 µm at 40 mm, up, stands about 2 turns of the pointer (200 µm each) from −398 µm of another run; the small hand was missed in one of them: read it again, or write the whole reading",
    ],
    [
      "a unit in a cell",
      sheet(["0,up,1,0.5 thou", ...rows.slice(1)]),
      "mixed-units",
      'x.csv line 7, column deviation/um: "0.5 thou" brings a unit of its own; the unit stands once, in the heading: convert the cell and write digits only',
    ],
    [
      "inches under a heading of millimetres",
      sheet(
        rows.map((row) => {
          const [target, direction, run] = row.split(",");
          return `${target},${direction},${run},${(Number(target) / 25.4).toFixed(4)}`;
        }),
        preamble,
        "target/mm,direction,run,position/mm",
      ),
      "mixed-units",
      "x.csv: the positions are about 0.0394 times the targets: one column is in another unit than its heading says; correct the heading",
    ],
    [
      "a temperature without its unit",
      sheet(rows, preamble, `${heading},temperature`),
      "heading-unit",
      'x.csv line 6, column 5: the heading "temperature" has no unit; write temperature/ and one of degC, degF, K',
    ],
    [
      "no reference",
      sheet(rows, preamble.slice(0, 4)),
      "reference",
      'x.csv: the sheet does not say what carries the length; write "# reference: gauge blocks, grade 2", and "# reference scale limit: 10 µm/m" where it is known',
    ],
    ["no axis", sheet(rows, preamble.slice(1)), "axis", 'x.csv: the axis is not said; write "# axis: X"'],
    [
      "a blank reading",
      sheet(["0,up,1,", ...rows.slice(1)]),
      "blank",
      "x.csv line 7, column deviation/um: is blank; every reading is needed, read it again",
    ],
    [
      "a direction that is none",
      sheet(["0,left,1,0", ...rows.slice(1)]),
      "direction",
      'x.csv line 7, column direction: "left" is no direction; write up or down, the side of approach',
    ],
  ];
  it.each(cases)("%s", (_what, text, code, message) => {
    expect(refusal(() => read(text))).toEqual({ code, message });
  });
});

it("finds the missed turn among two runs and among five", () => {
  const five = [1, 2, 3, 4, 5].flatMap((run) => [
    ...[0, 40].map((at) => `${at},up,${run},${run === 3 && at === 40 ? -198 : 1}`),
    ...[40, 0].map((at) => `${at},down,${run},3`),
  ]);
  expect(refusal(() => read(sheet(five))).code).toBe("rolled-over");
});

it("does not take a play of a whole turn for a missed turn", () => {
  const wide = rows.map((row) => (row.includes("down") ? row.replace(/[\d.]+$/, "200") : row));
  expect(read(sheet(wide)).runs).toBe(2);
});
