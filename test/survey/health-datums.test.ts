import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import { parseSurvey } from "../../kernel-lib/src/survey/index.js";

const text = readFileSync(new URL("../../data/table-stoned.csv", import.meta.url), "utf8");
const found = (sheet: string) =>
  parseSurvey(sheet, { name: "sheet.csv" })
    .health()
    .findings.filter(({ check }) => check === "datum reading");

/** the sheet with reading n of the datums moved */
function moved(n: number, by: number): string {
  let at = 0;
  return text
    .split("\n")
    .map((line) => {
      if (!line.startsWith("datum") || at++ !== n) return line;
      const cells = line.split(",");
      cells[3] = String(Number(cells[3]) + by);
      return cells.join(",");
    })
    .join("\n");
}

describe("a reading of a datum off the others of its visit", () => {
  it("is named with its number, size and side", () => {
    const [finding] = found(moved(4, 14));
    expect(finding?.what).toMatch(
      /^datum 2, pass 1: reading 2 of 3 taken one after the other stands 1\d\.\d µm above the others$/,
    );
    expect(finding?.severity).toBe("check");
  });

  it.each([0, 7, 20, 33, 50, 71])("is found wherever it stands, up or down (reading %d)", (n) => {
    for (const by of [-12, 12]) expect(found(moved(n, by))).toHaveLength(1);
  });

  it("is not seen where none is off, nor for a step or two", () => {
    expect(found(text)).toEqual([]);
    for (const n of [3, 30, 60]) expect(found(moved(n, 2))).toEqual([]);
  });

  it("is not seen on the club's other clean sheets", () => {
    for (const name of [
      "table-before.csv",
      "plate-faced.csv",
      "odd-first.csv",
      "odd-second-again.csv",
      "odd-third-corrected.csv",
    ]) {
      expect(found(readFileSync(new URL(`../../data/${name}`, import.meta.url), "utf8")), name).toEqual([]);
    }
  });
});
