import { describe, expect, it } from "vitest";
import type { Figure, JsonObject } from "../../kernel-lib/src/figure/index.js";
import { everyFigure } from "./every-figure.js";
import { liveWords, stillWords } from "./words.js";

/** drawn by its words, which name no length of ours, or in the units its maker prints */
const ownUnits = new Set(["bars", "histogram"]);
const figures: { readonly [name: string]: Figure } = Object.fromEntries(
  Object.entries(everyFigure)
    .filter(([name]) => !ownUnits.has(name))
    .flatMap(([, cases]) => Object.entries(cases).map(([what, make]) => [what, make()])),
);

/** places and heights of all traces, numbers only */
const numbers = ({ data }: Figure, axis: "x" | "y" | "z"): number[] =>
  data
    .flatMap((trace) => [trace[axis] ?? []])
    .flat(3)
    .filter((value) => typeof value === "number");

describe.each(Object.entries(figures))("%s in inch", (_, metric) => {
  const inch = metric.shownIn("inch");

  it("says the same words live and still, none of them metric", () => {
    const { texts } = inch;
    const wanted = [texts.title, texts.subtitle, ...texts.axes, ...texts.edges, ...texts.lines, ...texts.marked];
    for (const words of [liveWords(inch), stillWords(inch)]) {
      for (const text of wanted) expect(words).toContain(text.replace(/\s+/g, " "));
    }
    expect(JSON.stringify([texts, inch.alt, inch.data, inch.layout]).replaceAll("blocks of 40 mm", "")).not.toMatch(
      /\d mm\b|µm|\/mm|°C/,
    );
  });

  it("draws the same places and heights, on the scale its axes name", () => {
    const scaleOf =
      (name = "") =>
      (value: number) => {
        if (name.endsWith("/°F")) return (value - 32) / 1.8;
        return /\/(in|thou)$/.test(name) ? value * 25.4 : value;
      };
    const [u, v, z] = inch.texts.axes;
    const scales = { x: scaleOf(u), y: scaleOf(v), z: scaleOf(z) };
    const step = metric.texts.edges.length > 0 && metric.data[0]!.type === "contour" ? 0.02 : 1e-6;
    for (const axis of ["x", "y", "z"] as const) {
      const [a, b] = [numbers(metric, axis), numbers(inch, axis)];
      expect(b.length).toBe(a.length);
      // rounded to a thousandth of a contour's step, or the rim of the box that follows the ticks
      for (const [i, value] of b.entries()) expect(Math.abs(scales[axis](value) - a[i]!)).toBeLessThan(step);
    }
  });

  it("keeps the stated exaggeration, and metric stays as it was made", () => {
    expect(inch.texts.exaggeration).toBe(metric.texts.exaggeration);
    expect(inch.shownIn("metric").id).toBe(metric.id);
    // already in those units: not drawn a second time
    expect(metric.shownIn("metric")).toBe(metric);
    expect(inch.shownIn("inch")).toBe(inch);
  });
});

it("puts ticks at round inches and round thou, and the colour bar's end at the limit given", () => {
  const map = figures.map!.shownIn("inch");
  expect(map.texts.axes).toEqual(["x/in", "y/in", "height/thou"]);
  expect((map.layout.xaxis as JsonObject).ticktext).toEqual(["0", "5", "10", "15", "20", "25", "30", "35", "40"]);
  const [contour] = map.data;
  expect([contour!.zmin, contour!.zmax]).toEqual([-2, 2]);
  expect((contour!.colorbar as JsonObject).ticktext).toEqual(["−2", "−1", "0", "1", "2"]);
  expect(map.data.at(-1)!.customdata).toContain("A2: x 2.756 in, y 0.000 in, 0.012 thou");
  expect(figures["bars of a study"]!.shownIn("inch").texts.lines[0]).toMatch(/of the tolerance of 1 thou \(6 s\)$/);
});

it("draws heights and lengths in one proportion: what is drawn is what is stated", () => {
  const surface = figures.surface!.shownIn("inch");
  const scene = surface.layout.scene as JsonObject;
  const [x, z] = [scene.xaxis as JsonObject, scene.zaxis as JsonObject].map(({ range }) => range as number[]);
  const aspect = scene.aspectratio as { x: number; z: number };
  const drawn = aspect.z / ((z![1]! - z![0]!) / 1000) / (aspect.x / (x![1]! - x![0]!));
  expect(surface.texts.exaggeration).toBe("heights × 5000");
  expect(drawn).toBeCloseTo(5000, 6);
});
