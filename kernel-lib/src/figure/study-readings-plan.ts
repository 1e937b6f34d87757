import { printNumber } from "../quantity/print.js";
import type { GaugeStudy } from "../survey/index.js";
import type { FigureTexts } from "./figure.js";
import { figureWidth, frameRoom } from "./frame.js";
import type { PrintScale } from "./print-units.js";
import { type Tick, ticks } from "./ticks.js";

/** One operator's readings: each part stands in a slot of width 1, the operators beside each other in it. */
export interface OperatorReadings {
  readonly operator: string;
  /** 0 circle, 1 square, 2 triangle, then from the first again, filled ones before open ones */
  readonly sign: number;
  readonly points: readonly { readonly at: number; readonly height: number; readonly hover: string }[];
  readonly means: readonly { readonly at: number; readonly height: number }[];
}

/** The readings of a study laid out. */
export interface StudyReadingsPlan {
  readonly texts: FigureTexts;
  readonly alt: string;
  readonly operators: readonly OperatorReadings[];
  readonly parts: readonly Tick[];
  readonly heights: readonly Tick[];
  readonly range: readonly [low: number, high: number];
  readonly box: { readonly left: number; readonly top: number; readonly width: number; readonly height: number };
  readonly height: number;
}

export const readingsRoom = { left: 62, right: 20, top: 12, bottom: 46 };
export const signNames = ["●", "■", "▲", "○", "□", "△"];

export function planStudyReadings(study: GaugeStudy, scale: PrintScale): StudyReadingsPlan {
  const { parts, operators, words } = study;
  const printed = (height: number) => `${printNumber(height, 4)} ${scale.symbol}`;
  const offset = (j: number) => (operators.length === 1 ? 0 : (0.56 * j) / (operators.length - 1) - 0.28);
  const series = operators.map((operator, j): OperatorReadings => {
    const cells = parts.map((part) => study.readingsOf(part, operator).map((value) => scale.of(value.in("um"))));
    const at = (i: number) => i + 1 + offset(j);
    const by = operators.length === 1 ? "" : `, ${words.operator} ${operator}`;
    return {
      operator,
      sign: j % signNames.length,
      points: cells.flatMap((cell, i) =>
        cell.map((height) => ({ at: at(i), height, hover: `${words.part} ${parts[i]}${by}: ${printed(height)}` })),
      ),
      means: cells.map((cell, i) => ({
        at: at(i),
        height: cell.reduce((sum, height) => sum + height, 0) / cell.length,
      })),
    };
  });
  const all = series.flatMap(({ points }) => points.map(({ height }) => height));
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const margin = 0.06 * (high - low);
  const range = [low - margin, high + margin] as const;
  const key = `${words.operator}: ${series.map(({ operator, sign }) => `${signNames[sign]} ${operator}`).join(", ")}`;
  const texts: FigureTexts = {
    title: study.name,
    subtitle: operators.length === 1 ? "every reading; the line joins the means" : `${key}; lines join the means`,
    axes: [words.part, `reading/${scale.symbol}`],
    edges: [],
    lines: [
      operators.length === 1
        ? `what scatters at one ${words.part} is the gauge's own`
        : `what scatters under one mark at one ${words.part} is the gauge's own; lines that run side by side show no interaction`,
    ],
    marked: [],
  };
  const room = frameRoom(texts);
  const box = {
    left: readingsRoom.left,
    top: room.above + readingsRoom.top,
    width: figureWidth - readingsRoom.left - readingsRoom.right,
    height: 260,
  };
  const every = Math.ceil(
    parts.length / Math.max(1, Math.floor(box.width / (7 * Math.max(...parts.map((p) => p.length)) + 10))),
  );
  return {
    texts,
    alt: `Readings of ${parts.length} ${words.part}s by ${operators.length} ${words.operator}${operators.length === 1 ? "" : "s"}, ${study.name}: from ${printed(low)} to ${printed(high)}.`,
    operators: series,
    parts: parts.flatMap((part, i) => (i % every === 0 ? [{ at: i + 1, text: part }] : [])),
    heights: ticks(range[0], range[1], 6),
    range,
    box,
    height: box.top + box.height + readingsRoom.bottom + room.below,
  };
}
