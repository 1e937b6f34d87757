import { expect, it } from "vitest";
import { counted, withArticle } from "../kernel-lib/src/words.js";

it("counts one thing and several in their own words", () => {
  expect([0, 1, 2].map((n) => counted(n, "reading"))).toEqual(["0 readings", "1 reading", "2 readings"]);
  expect([1, 3].map((n) => counted(n, "place is left", "places are left"))).toEqual([
    "1 place is left",
    "3 places are left",
  ]);
});

it("takes the article that the next word wants", () => {
  expect(["angle", "area", "length", "expansion coefficient"].map(withArticle)).toEqual([
    "an angle",
    "an area",
    "a length",
    "an expansion coefficient",
  ]);
});
