import { expect, it } from "vitest";
import { firstFrom, hitsOf, startsOf } from "../../kernel-lib/page/find-places.js";

const cells = [
  { source: "const sheet = 1;", shown: "" },
  { source: "sheet.health()", shown: "Health of the SHEET: one sheet" },
  { source: "## The end", shown: "" },
];

it("finds words in what is written and what is shown, in the order of the notebook", () => {
  expect(hitsOf("Sheet", cells)).toEqual([
    { cell: 0, part: "source", nth: 0 },
    { cell: 1, part: "source", nth: 0 },
    { cell: 1, part: "shown", nth: 0 },
    { cell: 1, part: "shown", nth: 1 },
  ]);
  expect(hitsOf("", cells)).toEqual([]);
  expect(hitsOf("plate", cells)).toEqual([]);
});

it("counts a place once, and keeps places where a capital is longer in small letters", () => {
  expect(startsOf("aa", "aaaaa")).toEqual([0, 2]);
  expect(startsOf("µm", "İ 3 µM")).toEqual([4]);
  expect(startsOf(".", "a.b")).toEqual([1]);
});

it("begins with the cell in hand and goes round", () => {
  const hits = hitsOf("sheet", cells);
  expect([firstFrom(hits, 0), firstFrom(hits, 1), firstFrom(hits, 2), firstFrom([], 2)]).toEqual([0, 1, 0, 0]);
});
