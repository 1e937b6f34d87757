import type { Trend } from "../proof/trend.js";
import { barColour } from "./bars-plan.js";
import type { Figure } from "./figure.js";
import { softInk } from "./frame.js";
import { xyLengths } from "./xy-lengths.js";
import type { XySeries } from "./xy-plan.js";

/**
 * Results over time with bands of ± 2 u, the mean and the control limits.
 *
 * @example
 * const one = (date, valueUm) => ({ date, subject: "table", result: "flatness", valueUm, standardUncertaintyUm: 1, relativeTo: "travel", gauge: "dial", places: "78 places", sheet: "table.csv" });
 * figure.trendPlot(proof.trend([one("2026-01-10", 12), one("2026-03-10", 12.5)])).texts.axes.join() // => "days since 2026-01-10,flatness/µm"
 */
export function trendPlot(trend: Trend): Figure {
  const { points, name, centreUm, lowUm, highUm } = trend;
  const last = points.at(-1)!.day;
  const level = (y: number, what: string, line: "solid" | "dash"): XySeries => ({
    points: [0, last].map((x) => ({ x, y, hover: `${what}: ${y.toFixed(1)} µm` })),
    sign: "none",
    colour: softInk,
    line,
    band: false,
  });
  return xyLengths(
    {
      texts: {
        title: name,
        subtitle: "circles: results, band ± 2 u; thin line: mean; dashed: control limits",
        axes: [`days since ${points[0]!.date}`, `${trend.result}/µm`],
        edges: [],
        lines: [`limits from ${trend.limitsFrom}`, ...(trend.alarms.length > 0 ? trend.alarms : ["no drift seen"])],
        marked: [],
      },
      alt: `${name}, ${points.length} results over ${last} days: ${trend.alarms.length} ${trend.alarms.length === 1 ? "alarm" : "alarms"}.`,
      series: [
        level(centreUm, "mean", "solid"),
        level(lowUm, "lower limit", "dash"),
        level(highUm, "upper limit", "dash"),
        {
          points: points.map(({ day, date, valueUm: y, standardUncertaintyUm: u }) => ({
            x: day,
            y,
            low: y - 2 * u,
            high: y + 2 * u,
            hover: `${date}: ${y.toFixed(1)} µm`,
          })),
          sign: "circle",
          colour: barColour,
          line: "none",
          band: true,
        },
      ],
    },
    [name],
  );
}
