import { describe, expect, it } from "vitest";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";
import { inventSurvey } from "./invented-survey.js";

const { text } = inventSurvey({ seed: 3, scatter: 1, step: 1 });
const lines = text.split("\n");
const first = lines.findIndex((row) => row.startsWith("place,"));
const find = (sheet: string, check: string) =>
  parseSurvey(sheet, { name: "t.csv" })
    .health()
    .findings.filter((f) => f.check === check);
/** a column more, and perhaps another height, for each row of the sheet */
const withColumn = (heading: string, cell: (row: number, cells: string[]) => string) =>
  lines
    .map((row, i) => {
      if (i === first) return `${row},${heading}`;
      if (i < first || row === "") return row;
      const cells = row.split(",");
      const added = cell(i - first - 1, cells);
      return `${cells.join(",")},${added}`;
    })
    .join("\n");

describe("health", () => {
  it("names a clock that runs back, and where", () => {
    const clock = (slip: number) => withColumn("time/min", (row) => String(row === 30 ? row - slip : row));
    expect(find(clock(0), "clock")).toEqual([]);
    const [found] = find(clock(20), "clock");
    expect(found).toMatchObject({ severity: "check", places: ["C4"] });
    expect(found?.what).toBe(
      "the clock runs back once, first at C4, pass 1; the order of the readings is used instead of it",
    );
  });

  it("names a datum return that is missing at the end, and a datum missing from a round", () => {
    expect(find(text, "returns")).toEqual([]);
    const cut = lines.filter((row, i) => !(row.startsWith("datum") && i > first + 110)).join("\n");
    expect(find(cut, "returns")[0]?.what).toMatch(
      /^a datum return is missing: it ends without one \(the last stands \d+ readings before the end\); datum 2, datum 3 is not in round 4 of 4$/,
    );
    const gap = lines.filter((row, i) => !(row.startsWith("datum 2") && i > first + 9 && i < first + 60)).join("\n");
    expect(find(gap, "returns")[0]?.what).toBe("a datum return is missing: datum 2 is not in round 2 of 5");
  });

  it("sees that places approached from two sides read differently, and is quiet where they do not", () => {
    const sides = (play: number) =>
      withColumn("approach", (row, cells) => {
        const back = (row * 7) % 5 < 2;
        if (back && !cells[0]!.startsWith("datum")) cells[3] = String(Number(cells[3]) + play);
        return back ? "-x" : "+x";
      });
    expect(find(sides(0), "approach")).toEqual([]);
    const [found] = find(sides(6), "approach");
    expect(found?.what).toMatch(
      /^places approached -x read [5-7]\.\d µm higher than approached \+x$|^places approached \+x read [5-7]\.\d µm lower than approached -x$/,
    );
  });
});
