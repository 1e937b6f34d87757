import type { PositionFigures, Positioning } from "../axis/index.js";
import { printDecimals } from "../quantity/print.js";
import type { Length } from "../quantity/quantity.js";
import { barColour } from "./bars-plan.js";
import type { Figure } from "./figure.js";
import { softInk } from "./frame.js";
import { figureLines, type MapOptions } from "./options.js";
import { xyLengths } from "./xy-lengths.js";
import type { XyBracket, XySeries } from "./xy-plan.js";

export type DeviationPlotOptions = Pick<MapOptions, "title" | "limitUm" | "cautions" | "notes">;

/**
 * The deviations of an axis over its travel: means of both directions with their bands of ± 2 s, and A, E, M, R, B drawn where
 * they arise. Give two plots the same `limitUm` to compare them.
 *
 * @param found as `axis.positioning` gives it
 * @example
 * const readings = [1, 2].flatMap((run) => [
 *   ...[0, 40].map((at) => ({ target: mm(at), direction: "up", run, deviation: um(at / 20 + run) })),
 *   ...[40, 0].map((at) => ({ target: mm(at), direction: "down", run, deviation: um(at / 20 + 9) })),
 * ]);
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(3) });
 * figure.deviationPlot(axis.positioning(axis.positioningTest({ axis: "X", readings, gauge: dial, reference: { name: "blocks" } }))).texts.axes.join() // => "X/mm,deviation/µm"
 */
export function deviationPlot(found: Positioning, options: DeviationPlotOptions = {}): Figure {
  const { test, positions } = found;
  const series: XySeries[] = [
    directionOf(positions, "up"),
    directionOf(positions, "down"),
    {
      points: positions.map((p) => point(p, (um(p.meanUp) + um(p.meanDown)) / 2, "mean of both")),
      sign: "none",
      colour: softInk,
      line: "solid",
      band: false,
    },
  ];
  const brackets = bracketsOf(found);
  const limit = options.limitUm;
  return xyLengths(
    {
      texts: {
        title: options.title ?? `Deviations: ${test.name}`,
        subtitle: "▲ approached upwards (solid), ▼ downwards (dashed); bands: mean ± 2 s; thin line: mean of both",
        axes: [`${test.axis}/mm`, "deviation/µm"],
        edges: [],
        lines: figureLines({
          ...options,
          notes: [
            `deviation = actual − target, ${test.runs} runs each way, against ${test.reference.name}`,
            ...(options.notes ?? []),
          ],
        }),
        marked: brackets.map(({ label }) => label),
      },
      alt: `Deviations of ${test.name} at ${positions.length} targets, both directions: A ${micrometres(found.accuracy.value)}, mean reversal ${micrometres(found.meanReversal.value)}.`,
      series,
      brackets,
      ...(limit === undefined ? {} : { yRange: [-limit, limit] as const }),
    },
    [test.name, test.reference.name, ...(options.notes ?? [])],
  );
}

/** the `limitUm` that holds the bands of all that are given */
export function deviationLimit(...all: readonly Positioning[]): number {
  const ends = all.flatMap(({ positions }) =>
    positions.flatMap((p) => [
      Math.abs(um(p.meanUp)) + 2 * um(p.deviationUp),
      Math.abs(um(p.meanDown)) + 2 * um(p.deviationDown),
    ]),
  );
  return Math.ceil(Math.max(...ends) / 5) * 5;
}

function directionOf(positions: readonly PositionFigures[], direction: "up" | "down"): XySeries {
  const isUp = direction === "up";
  return {
    points: positions.map((p) => {
      const [mean, s] = isUp ? [um(p.meanUp), um(p.deviationUp)] : [um(p.meanDown), um(p.deviationDown)];
      return { ...point(p, mean, direction), low: mean - 2 * s, high: mean + 2 * s };
    }),
    sign: direction,
    colour: isUp ? barColour : "#8a5a1b",
    line: isUp ? "solid" : "dash",
    band: true,
  };
}

function point(p: PositionFigures, y: number, what: string) {
  const x = p.target.in("mm");
  return { x, y, hover: `${x} mm, ${what}: ${printDecimals(y, 1)} µm` };
}

/** A, E, M beside the plot; R and B at their targets */
function bracketsOf(found: Positioning): XyBracket[] {
  const { positions } = found;
  const means = positions.flatMap((p) => [um(p.meanUp), um(p.meanDown)]);
  const spreads = positions.flatMap((p) => [um(p.deviationUp), um(p.deviationDown)]);
  const middles = positions.map((p) => (um(p.meanUp) + um(p.meanDown)) / 2);
  const beside = (name: string, low: readonly number[], high: readonly number[], column: number): XyBracket => {
    const [from, to] = [Math.min(...low), Math.max(...high)];
    return { from, to, beside: column, label: `${name} ${(to - from).toFixed(1)} µm` };
  };
  const upper = means.map((mean, i) => mean + 2 * spreads[i]!);
  const lower = means.map((mean, i) => mean - 2 * spreads[i]!);
  const widest = greatest(positions, (p) => um(p.repeatability));
  const turned = greatest(positions, (p) => Math.abs(um(p.reversal)));
  const centre = (positions[0]!.target.in("mm") + positions.at(-1)!.target.in("mm")) / 2;
  // words stand towards the middle of the plot; two figures of one target on its two sides
  const inward = (p: PositionFigures): -1 | 1 => (p.target.in("mm") > centre ? -1 : 1);
  const other = (side: -1 | 1): -1 | 1 => (side === 1 ? -1 : 1);
  return [
    beside("A", lower, upper, 2),
    beside("E", means, means, 1),
    beside("M", middles, middles, 0),
    {
      ...withinOf(widest),
      x: widest.target.in("mm"),
      side: widest === turned ? other(inward(widest)) : inward(widest),
      words: "above",
      label: `R ${um(widest.repeatability).toFixed(1)} µm`,
    },
    {
      from: um(turned.meanUp),
      to: um(turned.meanDown),
      x: turned.target.in("mm"),
      side: inward(turned),
      words: "below",
      label: `B ${Math.abs(um(turned.reversal)).toFixed(1)} µm`,
    },
  ];
}

/** what R_i spans: both bands, or that of one direction where it is the wider */
function withinOf(p: PositionFigures): { from: number; to: number } {
  const band = (mean: Length, s: Length) => ({ from: um(mean) - 2 * um(s), to: um(mean) + 2 * um(s) });
  const [up, down] = [band(p.meanUp, p.deviationUp), band(p.meanDown, p.deviationDown)];
  const both = { from: Math.min(up.from, down.from), to: Math.max(up.to, down.to) };
  const size = um(p.repeatability);
  return [both, up, down].reduce((a, b) => (Math.abs(b.to - b.from - size) < Math.abs(a.to - a.from - size) ? b : a));
}

function greatest<T>(list: readonly T[], size: (of: T) => number): T {
  return list.reduce((a, b) => (size(b) > size(a) ? b : a));
}

function um(length: Length): number {
  return length.in("um");
}

function micrometres(length: Length): string {
  return `${printDecimals(um(length), 1)} µm`;
}
