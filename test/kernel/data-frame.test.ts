import { createRequire } from "node:module";
import { expect, it } from "vitest";
import { shownValue } from "../../kernel-lib/src/kernel/cell-value.js";

const { DataFrame } = createRequire(import.meta.url)("danfojs-node");

it("a data frame is shown as a table, its texts escaped", () => {
  const frame = new DataFrame({ place: ["A1", "<img src=x onerror=alert(1)>"], "z/um": [1.5, Number.NaN] });
  const { data, metadata } = shownValue(frame);
  expect(metadata).toEqual({ dialbook: true });
  const lines = String(data["text/plain"]).split("\n");
  expect(lines[0]).toBe("data frame, 2 rows, 2 columns");
  expect(lines.find((line) => line.includes("A1"))).toMatch(/^0 +A1 +1\.5$/);
  expect(lines.find((line) => line.includes("<img"))).toMatch(/–$/);
  expect(data["text/html"]).not.toContain("<img");
});

it("of a long frame the first rows are shown, the rest is counted", () => {
  const { data } = shownValue(new DataFrame({ n: Array.from({ length: 45 }, (_, i) => i) }));
  expect(data["text/plain"]).toContain("data frame, 45 rows, 1 column\n");
  expect(data["text/plain"]).toContain("and 5 rows more");
  expect(data["text/plain"]).not.toMatch(/^41 /m);
});

it("what only looks like one is shown as Node prints it", () => {
  expect(shownValue({ columns: ["a"], values: [[1]], index: [0] }).data["text/html"]).toBeUndefined();
  expect(shownValue(Object.create(null)).data["text/plain"]).toBe("[Object: null prototype] {}");
});
