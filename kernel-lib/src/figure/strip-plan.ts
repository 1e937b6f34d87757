import type { LevelNetwork } from "../form/index.js";
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
  /** `stem`: its length both ways, ± U of one place, 95 % */
  readonly points: readonly {
    readonly at: number;
    readonly height: number;
    readonly stem: number;
    readonly hover: string;
  }[];
  /** the two lines of the zone */
  readonly zone: readonly [low: number, high: number];
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
  const halfUm = width.raw.in("um") / 2;
  const stems = line.reads === "heights" ? "stems: ± 2 u of one place" : "stems: ± 2 u of one step";
  return layOut(
    {
      title: options.title ?? `Straightness of ${nameOf(line, units)}`,
      subtitle: `heights above the mid line of the minimum zone, ${found.relative}; dashed: the zone; ${stems}`,
      across: line.along.length === 1 ? line.along : "place",
      places: line.labels.map((label, i) => ({ label, atMm: line.atMm[i]! })),
      heightsUm: residualsUm,
      stemsUm: residualsUm.map(() => 2 * line.noise.standardUncertaintyUm),
      zoneUm: [-halfUm, halfUm],
      from: "mid line",
      lines: (decimals) => [
        `zone ${scaleText(units.height, 2 * halfUm, decimals)} as read, ${measuredHeight(units, found.overall)}`,
      ],
      relative: found.relative,
    },
    options,
    units,
  );
}

/** The heights of a level network whose places lie on one line. */
export function planLevelStrip(network: LevelNetwork, options: StripOptions, units: PrintUnits): StripPlan {
  const { survey, deviationsUm, relative, loops } = network;
  const { places } = survey;
  const [first] = places;
  const along = places.map(({ xMm, yMm }) => Math.hypot(xMm - first!.xMm, yMm - first!.yMm));
  const closing = loops.length > 0 ? [] : ["no loop is closed: a line has none"];
  return layOut(
    {
      title: options.title ?? `Straightness of ${survey.name}${/\bby level$/.test(survey.name) ? "" : " by level"}`,
      subtitle: `heights above the least-squares line, ${relative}; dashed: the highest and the lowest place; stems: ± U of one place (95 %)`,
      across: "place",
      places: places.map(({ label }, i) => ({ label, atMm: along[i]! })),
      heightsUm: deviationsUm,
      stemsUm: places.map(({ label }) => network.deviation(label).expandedUncertainty().in("um")),
      zoneUm: [Math.min(...deviationsUm), Math.max(...deviationsUm)],
      from: "line",
      lines: (decimals) => [
        `straightness ${scaleText(units.height, network.peakToValley.raw.in("um"), decimals)} as read, ${measuredHeight(units, network.overall)}`,
        restated(network.checkText(), units.system),
        ...closing,
      ],
      relative,
    },
    options,
    units,
  );
}

interface StripContent {
  readonly title: string;
  readonly subtitle: string;
  /** what the axis along is called */
  readonly across: string;
  readonly places: readonly { readonly label: string; readonly atMm: number }[];
  readonly heightsUm: readonly number[];
  readonly stemsUm: readonly number[];
  readonly zoneUm: readonly [low: number, high: number];
  /** "mid line" */
  readonly from: string;
  readonly lines: (decimals: number) => readonly string[];
  readonly relative: string;
}

function layOut(content: StripContent, options: StripOptions, { place, height }: PrintUnits): StripPlan {
  const { heightsUm, stemsUm, zoneUm, title } = content;
  const stems = stemsUm.map((um) => height.of(um));
  const reach = Math.max(...heightsUm.map((um, i) => Math.abs(height.of(um)) + stems[i]!), height.of(zoneUm[1]));
  const limit = options.limitUm === undefined ? roundUp(Math.max(reach, 1e-9) * 1.05) : height.of(options.limitUm);
  const decimals = limit < height.of(3) ? 2 : 1;
  const at = content.places.map(({ atMm }) => place.of(atMm));
  const [from, to] = [Math.min(...at), Math.max(...at)];
  const pad = 0.03 * (to - from);
  const range = [from - pad, to + pad] as const;
  const texts = {
    title,
    subtitle: content.subtitle,
    axes: [`${content.across}/${place.symbol}`, `height/${height.symbol}`],
    edges: [],
    lines: [...content.lines(decimals), ...figureLines(options)],
    marked: [],
  };
  const room = frameRoom(texts);
  const [low, high] = [Math.min(...heightsUm), Math.max(...heightsUm)];
  return {
    texts,
    alt: `Strip of ${at.length} places, ${title}, ${content.relative}: from ${scaleText(height, low, decimals)} to ${scaleText(height, high, decimals)} about the ${content.from}.`,
    points: heightsUm.map((um, i) => ({
      at: at[i]!,
      height: height.of(um),
      stem: stems[i]!,
      hover: `${content.places[i]!.label}: ${scaleText(place, content.places[i]!.atMm, 0)}, ${scaleText(height, um, decimals)}`,
    })),
    zone: [height.of(zoneUm[0]), height.of(zoneUm[1])],
    range,
    limit,
    atTicks: ticks(range[0], range[1], 8),
    heightTicks: ticks(-limit, limit, 5),
    height: room.above + stripRoom.top + stripRoom.plot + stripRoom.bottom + room.below,
  };
}
