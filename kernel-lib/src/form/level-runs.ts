import { MeasurementError } from "../measurement-error.js";
import type { Length, Slope } from "../quantity/index.js";
import { counted } from "../words.js";
import type { LevelPlace, LevelReading } from "./level-reading.js";

/** A straight line stepped off with the level, foot by foot. */
export interface LevelRun {
  readonly line: string;
  readonly start: { readonly xMm: number; readonly yMm: number };
  readonly end: { readonly xMm: number; readonly yMm: number };
  readonly foot: Length;
  /** inclinations of the steps in turn, from start to end, the mark of the level towards the end */
  readonly readings: readonly Slope[];
  /** the same steps in the same order, the level turned end for end on each; as it reads then */
  readonly turned?: readonly Slope[];
}

/**
 * Places and readings of lines that were stepped off foot by foot; where lines meet they share a place.
 *
 * Places are labelled by their coordinates in mm, "(100, 0)"; two within a hundredth of a foot are one.
 *
 * @throws MeasurementError `foot`, `count`
 * @example
 * const run = { line: "front", start: { xMm: 0, yMm: 0 }, end: { xMm: 200, yMm: 0 }, foot: mm(100), readings: [umPerM(10), umPerM(20)] };
 * form.levelRuns([run]).places.map((p) => p.label).join(" ") // => "(0, 0) (100, 0) (200, 0)"
 */
export function levelRuns(runs: readonly LevelRun[]): {
  readonly places: readonly LevelPlace[];
  readonly readings: readonly LevelReading[];
} {
  const places: LevelPlace[] = [];
  const readings = runs.flatMap((run) => {
    const labels = stations(run).map(({ xMm, yMm }) => {
      const near = run.foot.in("mm") / 100;
      const known = places.find((p) => Math.hypot(p.xMm - xMm, p.yMm - yMm) <= near);
      if (known) return known.label;
      const place = { label: `(${coordinate(xMm)}, ${coordinate(yMm)})`, xMm, yMm };
      places.push(place);
      return place.label;
    });
    return stepsOf(run, labels);
  });
  return { places, readings };
}

/** A place as a sentence names it: one labelled by its coordinates with their unit, "(100 mm, 0 mm)". */
export function placeName(label: string): string {
  return label.replace(/^\((−?\d+(?:\.\d+)?), (−?\d+(?:\.\d+)?)\)$/, "($1 mm, $2 mm)");
}

function stepsOf(run: LevelRun, labels: readonly string[]): LevelReading[] {
  const { line, foot, readings, turned } = run;
  const steps = labels.length - 1;
  for (const [what, list] of [
    ["reading", readings],
    ["turned reading", turned ?? readings],
  ] as const) {
    if (list.length === steps) continue;
    throw new MeasurementError(
      "count",
      `levelRuns: line "${line}" has ${counted(list.length, what)} for ${counted(steps, "step")} of ${foot.text("mm")}; give each step its reading`,
    );
  }
  const forward = readings.map((inclination, i) => ({
    line,
    from: labels[i]!,
    to: labels[i + 1]!,
    inclination,
    foot,
  }));
  const back = (turned ?? []).map((inclination, i) => ({
    line,
    from: labels[i + 1]!,
    to: labels[i]!,
    inclination,
    foot,
  }));
  return [...forward, ...back];
}

/** @throws MeasurementError `foot` where the foot does not divide the line */
function stations({ line, start, end, foot }: LevelRun): readonly { readonly xMm: number; readonly yMm: number }[] {
  const length = Math.hypot(end.xMm - start.xMm, end.yMm - start.yMm);
  const footMm = foot.in("mm");
  const steps = Math.round(length / footMm);
  if (!(footMm > 0 && steps >= 1 && Math.abs(length - steps * footMm) <= 0.01 * footMm)) {
    throw new MeasurementError(
      "foot",
      `levelRuns: a foot of ${foot.text("mm")} does not divide line "${line}" of ${Number(length.toFixed(2))} mm; move an end, or set the feet to a whole part of the line`,
    );
  }
  const at = (a: number, b: number, i: number) => a + ((b - a) * i) / steps;
  return Array.from({ length: steps + 1 }, (_, i) => ({
    xMm: at(start.xMm, end.xMm, i),
    yMm: at(start.yMm, end.yMm, i),
  }));
}

function coordinate(mm: number): string {
  return `${Number(mm.toFixed(1))}`.replace("-", "−");
}
