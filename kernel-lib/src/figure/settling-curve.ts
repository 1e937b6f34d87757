import type { Settling, SettlingKind, Wait } from "../heat/index.js";
import { tQuantile } from "../numerics/index.js";
import { printDecimals } from "../quantity/print.js";
import { liveCurve } from "./curve-live.js";
import { type CurvePlan, planCurve } from "./curve-plan.js";
import { Figure } from "./figure.js";
import { figureLines, type MapOptions } from "./options.js";
import type { PrintUnits } from "./print-units.js";
import { restated } from "./restated.js";
import { stillCurve } from "./still/curve.js";

export type SettlingCurveOptions = Pick<MapOptions, "title" | "cautions" | "notes"> & {
  /** drawn as an upright line at the moment by which it is so with 95 % confidence */
  readonly wait?: Wait;
};

/**
 * A warm-up or cooling record with its fitted curve, the 95 % band of the curve, and how long to wait. Growth and
 * temperature are drawn in the units that cells are shown in.
 *
 * @param found as `heat.settling` gives it
 * @example
 * const nose = heat.settling({
 *   name: "spindle nose",
 *   times: [0, 10, 20, 40, 60, 90, 120, 180].map(minutes),
 *   values: [0, 4.9, 8.5, 13.1, 15.8, 17.9, 19.1, 19.7].map(um),
 * });
 * figure.settlingCurve(nose, { wait: nose.waitUntilLeft(um(1)) }).texts.axes.join() // => "time from the first reading/min,growth/µm"
 */
export function settlingCurve<D extends SettlingKind>(found: Settling<D>, options: SettlingCurveOptions = {}): Figure {
  return Figure.drawn((units) => {
    const plan = planSettling(found, options, units);
    return { texts: plan.texts, alt: plan.alt, ...liveCurve(plan), still: stillCurve(plan) };
  });
}

function planSettling<D extends SettlingKind>(
  found: Settling<D>,
  options: SettlingCurveOptions,
  units: PrintUnits,
): CurvePlan {
  const isLength = found.kind === "length";
  const { of, symbol, moreDecimals } = isLength ? units.height : units.temperature;
  const say = (text: string) => restated(text, units.system, [found.name]);
  const readings = found.toArray();
  const { wait } = options;
  const sure = wait && wait.time.value.si > 0 ? wait.sureBy.in("min") : 0;
  const last = Math.max(readings.at(-1)!.minute, 1.05 * sure);
  const x = Array.from({ length: 121 }, (_, i) => (last * i) / 120);
  const k = tQuantile(0.975, found.degreesOfFreedom);
  const band = x.map((minute) => found.bandAt(minute));
  const decimals = (isLength ? 1 : 2) + moreDecimals;
  const title = options.title ?? `${found.name}: ${isLength ? "growth" : "temperature"}`;
  const taus = found.timeConstants.map((tau) => tau.text("min")).join(" and ");
  return planCurve({
    texts: {
      title,
      subtitle: "points: readings; line: fitted curve; grey: its 95 % band, without the scatter of a single reading",
      axes: ["time from the first reading/min", `${isLength ? "growth" : "temperature"}/${symbol}`],
      edges: [],
      lines: [
        `time constant${found.timeConstants.length > 1 ? "s" : ""} ${taus}`,
        ...(wait ? [say(wait.toString())] : []),
        ...figureLines(options),
      ],
      marked: sure > 0 ? [waitWords(sure)] : [],
    },
    alt: `${readings.length} readings over ${printDecimals(readings.at(-1)!.minute, 0)} min with the fitted curve: ${say(found.toString())}.`,
    points: readings.map(({ minute, value }) => ({
      x: minute,
      y: of(value),
      hover: `${printDecimals(minute, 1)} min: ${printDecimals(of(value), decimals)} ${symbol}`,
    })),
    curves: [{ x, y: band.map(({ value }) => of(value)) }],
    band: {
      x,
      low: band.map(({ value, standardUncertainty }) => of(value - k * standardUncertainty)),
      high: band.map(({ value, standardUncertainty }) => of(value + k * standardUncertainty)),
    },
    marks: sure > 0 ? [{ x: sure, text: waitWords(sure) }] : [],
  });
}

function waitWords(minute: number): string {
  return `${Math.ceil(minute)} min: 95 % sure`;
}
