import type { Straightness } from "../form/straightness.js";
import type { FigureTexts } from "./figure.js";
import { frameRoom } from "./frame.js";
import { figureLines, type MapOptions } from "./options.js";
import { measuredHeight, type PrintUnits, scaleText } from "./print-units.js";
import { restated } from "./restated.js";
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

/** a line of a map is named by where it runs; that of a level by a person */
function nameOf({ name, reads }: Straightness["line"], { system }: PrintUnits): string {
  return reads === "heights" ? restated(name, system) : name;
}

export function planStrip(found: Straightness, options: StripOptions, units: PrintUnits): StripPlan {
  const { line, minimumZone } = found;
  const { residualsUm, width } = minimumZone;
  const { place, height } = units;
  const halfUm = width.raw.in("um") / 2;
  const half = height.of(halfUm);
  const stem = height.of(2 * line.noise.standardUncertaintyUm);
  const limit =
    options.limitUm === undefined ? roundUp(Math.max(half + stem, 1e-9) * 1.05) : height.of(options.limitUm);
  const decimals = limit < height.of(3) ? 2 : 1;
  const at = line.atMm.map((mm) => place.of(mm));
  const [from, to] = [Math.min(...at), Math.max(...at)];
  const pad = 0.03 * (to - from);
  const range = [from - pad, to + pad] as const;
  const stems = line.reads === "heights" ? "stems: ± 2 u of one place" : "stems: ± 2 u of one step";
  const zone = `zone ${scaleText(height, 2 * halfUm, decimals)} as read, ${measuredHeight(units, found.overall)}`;
  const texts = {
    title: options.title ?? `Straightness of ${nameOf(line, units)}`,
    subtitle: `heights above the mid line of the minimum zone, ${found.relative}; dashed: the zone; ${stems}`,
    axes: [`${line.along.length === 1 ? line.along : "place"}/${place.symbol}`, `height/${height.symbol}`],
    edges: [],
    lines: [zone, ...figureLines(options)],
    marked: [],
  };
  const room = frameRoom(texts);
  const points = residualsUm.map((um, i) => ({
    at: at[i]!,
    height: height.of(um),
    hover: `${line.labels[i]}: ${scaleText(place, line.atMm[i]!, 0)}, ${scaleText(height, um, decimals)}`,
  }));
  return {
    texts,
    alt: `Strip of ${points.length} places, ${texts.title}, ${found.relative}: from ${scaleText(height, -halfUm, decimals)} to ${scaleText(height, halfUm, decimals)} about the mid line.`,
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
