import { describe, expect, it } from "vitest";
import type { Figure, JsonObject } from "../../kernel-lib/src/figure/index.js";
import { axis, figure, form, heat, kelvin, minutes, mm, newton, survey, um } from "../../kernel-lib/src/index.js";
import { aPlan } from "../display/a-plan.js";
import { clubTable, scatteredTable } from "./club-table.js";
import { liveWords, stillWords } from "./words.js";

const table = clubTable();
const between = form.surface(table, {
  slots: [{ along: "x", at: mm(75), width: mm(14) }],
  obstacles: [{ name: "vice", x: [mm(355), mm(415)], y: [mm(100), mm(160)] }],
});
const outline = (x: number): (readonly [number, number])[] => [
  [-x, -x],
  [1000, -x],
  [1000, 270],
];
const study = survey.gaugeStudy({
  readings: [3, 4, -6, -5, 11, 12].map((height, i) => ({ part: `P${i >> 1}`, value: um(height) })),
  tolerance: um(25.4),
  partsAre: "places",
});
const readings = [1, 2].flatMap((run) => [
  ...[0, 40].map((at) => ({ target: mm(at), direction: "up" as const, run, deviation: um(at / 20 + run) })),
  ...[40, 0].map((at) => ({ target: mm(at), direction: "down" as const, run, deviation: um(at / 20 + 9) })),
]);
const warmUp = heat.readWarmUp("data/warm-up-spindle.csv").between(minutes(0), minutes(180));
const nose = warmUp.growth("nose");
const levels = form.readLevels("data/levels-table.csv");
const ofRow = { ...levels, places: levels.places.filter(({ yMm }) => yMm === 20) };
const row = form.levelNetwork({ ...ofRow, readings: levels.readings.filter(({ line }) => line === "row 20") });
const tram = form.spindleTram(form.readSweep("data/sweep-head.csv"));
const bolts = [0, 203.2].flatMap((x) => [0, 254].map((y) => ({ label: `${x}/${y}`, x: mm(x), y: mm(y) })));
const stacks = form.shims({
  ...{ name: "re-tram", what: "column", tilt: { as: "lean", ...tram.lean } },
  ...{ bolts, foils: [um(20), um(5)] },
});
const figures: { readonly [name: string]: Figure } = {
  surface: figure.heightSurface(table),
  "surface of scattered places": figure.heightSurface(scatteredTable()),
  map: figure.heightMap(table, { limitUm: 50.8, outlines: [{ name: "the cutter", cornersMm: outline(20) }] }),
  "map of scattered places": figure.heightMap(scatteredTable()),
  "map of uncertainty": figure.uncertaintyMap(
    table,
    table.places.map(() => 1.2),
  ),
  "map of what is left": figure.residualMap(form.plane(table)),
  strip: figure.straightnessStrip(form.straightness(table, { along: "x", at: mm(100) })),
  "network of levels": figure.levelNetwork(form.levelNetwork(levels)),
  "strip of a line of levels": figure.levelNetwork(row),
  "circle of a sweep": figure.tramCircle(tram),
  "plan of shims": figure.shimPlan(stacks),
  "bars of a form": figure.formBars(form.makeUp(table)),
  "bars of a study": figure.studyBars(study),
  "readings of a study": figure.studyReadings(study),
  "surface between the places": figure.surfaceMap(between),
  "uncertainty of the surface": figure.surfaceUncertainty(between),
  "chance of the surface": figure.surfaceChance(between.chanceAbove(um(10))),
  plan: figure.planMap(aPlan()),
  "deviations of an axis": figure.deviationPlot(
    axis.positioning(
      axis.positioningTest({ axis: "X", readings, gauge: table.gauge, reference: { name: "blocks of 40 mm" } }),
    ),
    { limitUm: 25.4 },
  ),
  "lift of Z under a pull": figure.liftPlot(
    axis.liftUnderPull({
      free: axis.readSmallMoves("data/ladder-z-free.csv"),
      pulled: axis.readSmallMoves("data/ladder-z-pulled.csv"),
      weight: newton(690),
    }),
  ),
  "growth of a spindle": figure.settlingCurve(nose, { wait: nose.waitUntilLeft(um(2.54)) }),
  "bow of two metals": figure.bowProfile(
    heat.boltedPair({
      upper: { material: heat.material("aluminium 6061"), thickness: mm(25.4) },
      lower: { material: heat.material("grey iron"), thickness: mm(50.8) },
      length: mm(508),
      width: mm(203.2),
      warming: kelvin(4),
    }),
  ),
  "warmth of a headstock": figure.settlingCurve(warmUp.temperature("headstock")),
};

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
