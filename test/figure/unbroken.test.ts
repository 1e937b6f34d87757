import { expect, it } from "vitest";
import { unbroken } from "../../kernel-lib/src/figure/unbroken.js";
import { wrap } from "../../kernel-lib/src/figure/wrap.js";

const parts = (text: string) => unbroken(text).split(" ");

it("keeps a number and its unit, ± and U, a factor and a place together, and nothing else", () => {
  expect(parts("gaps up to 24 µm as it lies")).toEqual(["gaps", "up", "to", "24\u00a0µm", "as", "it", "lies"]);
  expect(parts("37.3 µm ± 4.1 µm (k = 2.0)")).toEqual(["37.3\u00a0µm", "±\u00a04.1\u00a0µm", "(k\u00a0=\u00a02.0)"]);
  expect(parts("at x −25 mm over 70 × 50 mm")).toEqual([
    "at",
    "x\u00a0−25\u00a0mm",
    "over",
    "70\u00a0×\u00a050\u00a0mm",
  ]);
  expect(unbroken("over 10\u2009000 repeats")).toBe("over 10\u202f000 repeats");
  expect(parts("5 readings, 40 µm/m of 9 mmHg")).toEqual(["5", "readings,", "40\u00a0µm/m", "of", "9", "mmHg"]);
});

it("breaks the lines of a figure elsewhere, and leaves plain spaces in them", () => {
  expect(wrap("interval of the draws 28 µm to 35 µm, against the travel", 32)).toEqual([
    "interval of the draws 28 µm to",
    "35 µm, against the travel",
  ]);
});
