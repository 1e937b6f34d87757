import { Figure } from "./figure.js";
import type { PrintUnits } from "./print-units.js";
import { restated, restatedUnit } from "./restated.js";
import { xyFigure } from "./xy-live.js";
import type { XyContent } from "./xy-plan.js";

/**
 * Values in µm against a coordinate in mm or in µm, as its axis is named, or one without a unit of length, live and still, in
 * either system of units.
 *
 * @param content coordinates in the unit of the first axis, values in µm, words in metric units
 * @param kept names in these words that a person chose
 */
export function xyLengths(content: XyContent, kept: readonly string[] = []): Figure {
  return Figure.drawn((units) => xyFigure(units.system === "metric" ? content : inUnits(content, units, kept)));
}

function inUnits(content: XyContent, { system, place, height }: PrintUnits, kept: readonly string[]): XyContent {
  const { texts, alt, series, brackets = [], yRange } = content;
  const axis = texts.axes[0] ?? "";
  const along = axis.endsWith("/µm") ? height.of : axis.endsWith("/mm") ? place.of : (x: number) => x;
  const say = (text: string) => restated(text, system, kept);
  return {
    texts: {
      ...texts,
      title: say(texts.title),
      subtitle: say(texts.subtitle),
      axes: texts.axes.map((axis) => axis.replace(/\/(mm|µm)$/, (_, unit) => `/${restatedUnit(unit, system)}`)),
      lines: texts.lines.map(say),
      marked: texts.marked.map(say),
    },
    alt: say(alt),
    series: series.map((one) => ({
      ...one,
      points: one.points.map(({ x, y, low, high, hover }) => ({
        x: along(x),
        y: height.of(y),
        hover: say(hover),
        ...(low === undefined ? {} : { low: height.of(low) }),
        ...(high === undefined ? {} : { high: height.of(high) }),
      })),
    })),
    brackets: brackets.map(({ from, to, x, label, ...bracket }) => ({
      ...bracket,
      from: height.of(from),
      to: height.of(to),
      label: say(label),
      ...(x === undefined ? {} : { x: along(x) }),
    })),
    ...(yRange === undefined ? {} : { yRange: [height.of(yRange[0]), height.of(yRange[1])] as const }),
  };
}
