import type { Straightness } from "../form/straightness.js";
import { printDecimals } from "../quantity/print.js";
import type { FigureTexts } from "./figure.js";
import { frameRoom } from "./frame.js";
import { figureLines, type MapOptions } from "./options.js";
import { roundUp, type Tick, ticks } from "./ticks.js";

/** A straightness strip laid out: the live and the still picture are both drawn from this. */
export interface StripPlan {
  readonly texts: FigureTexts;
  readonly alt: string;
  readonly points: readonly { readonly at: number; readonly height: number; readonly hover: string }[];
  /** the two lines of the zone, ± half of it */
  readonly half: number;
  /** length of the stems: ± U of one place, 95 % */
  readonly stem: number;
  readonly range: readonly [number, number];
  readonly limit: number;
  readonly atTicks: readonly Tick[];
  readonly heightTicks: readonly Tick[];
  readonly height: number;
}

export const stripRoom = { left: 66, right: 24, top: 16, bottom: 46, plot: 200 };

export type StripOptions = Pick<MapOptions, "title" | "limitUm" | "cautions" | "notes">;

export function planStrip(found: Straightness, options: StripOptions): StripPlan {
  const { line, minimumZone } = found;
  const { residualsUm, width } = minimumZone;
  const half = width.raw.in("um") / 2;
  const stem = 2 * line.noise.standardUncertaintyUm;
  const limit = options.limitUm ?? roundUp(Math.max(half + stem, 1e-9) * 1.05);
  const decimals = limit < 3 ? 2 : 1;
  const [from, to] = [Math.min(...line.atMm), Math.max(...line.atMm)];
  const pad = 0.03 * (to - from);
  const range = [from - pad, to + pad] as const;
  const stems = line.reads === "heights" ? "stems: ± 2 u of one place" : "stems: ± 2 u of one step";
  const zone = `zone ${printDecimals(2 * half, decimals)} µm as read, ${found.overall}`;
  const texts = {
    title: options.title ?? `Straightness of ${line.name}`,
    subtitle: `heights above the mid line of the minimum zone, ${found.relative}; dashed: the zone; ${stems}`,
    axes: [`${line.along.length === 1 ? line.along : "place"}/mm`, "height/µm"],
    edges: [],
    lines: [zone, ...figureLines(options)],
    marked: [],
  };
  const room = frameRoom(texts);
  const points = residualsUm.map((height, i) => ({
    at: line.atMm[i]!,
    height,
    hover: `${line.labels[i]}: ${printDecimals(line.atMm[i]!, 0)} mm, ${printDecimals(height, decimals)} µm`,
  }));
  return {
    texts,
    alt: `Strip of ${points.length} places, ${texts.title}, ${found.relative}: from ${printDecimals(-half, decimals)} µm to ${printDecimals(half, decimals)} µm about the mid line.`,
    points,
    half,
    stem,
    range,
    limit,
    atTicks: ticks(range[0], range[1], 8),
    heightTicks: ticks(-limit, limit, 5),
    height: room.above + stripRoom.top + stripRoom.plot + stripRoom.bottom + room.below,
  };
}
