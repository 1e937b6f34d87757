import { readFileSync } from "node:fs";
import { describe, expect, it } from "vitest";
import type { JsonObject } from "../../kernel-lib/src/figure/figure.js";
import { passDifferences } from "../../kernel-lib/src/figure/pass-differences.js";
import { parseSurvey } from "../../kernel-lib/src/survey/index.js";
import { refusal } from "../refusal.js";
import { twoPasses } from "../survey/planted-slips.js";

const data = (name: string) =>
  parseSurvey(readFileSync(new URL(`../../data/${name}`, import.meta.url), "utf8"), { name });
const drawn = (figure: ReturnType<typeof passDifferences>) =>
  figure.data.at(-1) as JsonObject & { x: number[]; y: number[] };

describe("what a later pass reads above the first", () => {
  it("is a spike where swarf was read, in the order of reading", () => {
    const { x, y } = drawn(passDifferences(data("odd-first.csv")));
    expect(x).toEqual(Array.from({ length: 28 }, (_, i) => i + 1));
    const spikes = y.flatMap((value, i) => (Math.abs(value) > 5 ? [[i + 1, value]] : []));
    expect(spikes).toEqual([[19, 34]]);
  });

  it("is a step where the stand slipped", () => {
    const { y } = drawn(passDifferences(data("odd-second.csv")));
    const mean = (values: number[]) => values.reduce((a, b) => a + b, 0) / values.length;
    expect(mean(y.slice(0, 17))).toBeCloseTo(0, -1);
    expect(mean(y.slice(17))).toBeCloseTo(-26, -1);
  });

  it("leaves out what was set aside", () => {
    const kept = data("odd-first.csv").withoutReading("C5", 2, "swarf");
    expect(drawn(passDifferences(kept)).y).toHaveLength(27);
  });

  it("is in thou where inch units are shown, and the order stays a number", () => {
    const { x, y } = drawn(passDifferences(data("odd-first.csv")).shownIn("inch"));
    expect([x[18], y[18]]).toEqual([19, expect.closeTo(34 / 25.4, 6)]);
  });

  it("needs a second pass", () => {
    const once = parseSurvey(
      twoPasses(3)
        .toCsv()
        .split("\n")
        .filter((line) => !/,2$/.test(line))
        .join("\n"),
      { name: "once.csv" },
    );
    expect(refusal(() => passDifferences(once))).toEqual({
      code: "no-such-pass",
      message: "passDifferences: once.csv has one pass; give a later pass, or read every place once more",
    });
  });
});
