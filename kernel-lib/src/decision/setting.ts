import type { Tolerance } from "../conformity/index.js";
import type { LocalHighs, SurfaceSource } from "../form/index.js";
import { MeasurementError } from "../measurement-error.js";
import type { Length } from "../quantity/index.js";
import type { Surface } from "../survey/surface.js";
import type { Effort } from "./effort.js";
import type { OptionKey, OwnOption } from "./option.js";
import { purseOf, type Stakes } from "./stakes.js";
import { checkTexture, type TextureOfCut } from "./texture.js";

/** An upper limit for the flatness, with its source: a standard, the maker's sheet, the job. */
export interface FlatnessTolerance extends Tolerance<"length"> {
  readonly upper: Length;
  readonly lower?: never;
  readonly source: string;
}

/** What is known of a plate that would be faced in place. Each figure is peak to valley over the plate. */
export interface PlateOutlook {
  /** ridges the cutter leaves, as `facing.ridges` gives them */
  readonly texture: Length;
  /** anything from nothing up to this: what deflection copies */
  readonly deflectionUpTo: Length;
  /** anything from nothing up to this: what of the travel does not repeat */
  readonly travelRepeatUpTo: Length;
  /** anything from nothing up to this: change of temperature while it is cut */
  readonly heatUpTo: Length;
  /** flatness of the travel itself, peak to valley, from a level or a straightedge */
  readonly travelFlatness?: Length;
  /** the top as the replay of its program leaves it (`replay.cut.surface`): shown as the map after */
  readonly faced?: Surface;
}

/** What `decision.options` is given. */
export interface OptionsInput extends Omit<Setting, "surface" | "independent"> {
  /** the map, or a survey that gives one */
  readonly surface: SurfaceSource;
  /** the same places surveyed by level (gravity) or straightedge (artefact): parts the travel from the table */
  readonly independent?: SurfaceSource;
}

/** The same, with the map at hand. */
export interface Setting {
  readonly surface: Surface;
  readonly tolerance: FlatnessTolerance;
  /** what `form.localHighs` found, with what is no metal left out; found from the map where not given */
  readonly highs?: { readonly areas: LocalHighs["areas"] };
  /** a part that will be clamped on it, for the error left on the part */
  readonly part?: { readonly x: Length; readonly y: Length };
  readonly plate?: PlateOutlook;
  /** ridges on a cut face before and after re-tramming: what the option of shimming the head changes */
  readonly texture?: TextureOfCut;
  /** what is left standing of a rim after stoning, up to this; 2 µm where left out */
  readonly leftAfterStoningUpTo?: Length;
  /** flatness that a grinding shop promises, peak to valley */
  readonly regrindPromises?: Length;
  readonly independent?: Surface;
  /** play of Z: what a height correction of the control has to cross before anything moves */
  readonly playOfZ?: Length;
  /** radius of the cutter that a height correction is spread over; none where left out */
  readonly cutterRadius?: Length;
  /** options of the reader's own */
  readonly own?: readonly OwnOption[];
  /** what a miss costs, what an hour is worth, what measuring again takes: gives expected costs and the worth of one more survey */
  readonly stakes?: Stakes;
  readonly efforts?: { readonly [K in OptionKey]?: Effort };
  readonly seed?: number;
  readonly draws?: number;
}

/** Refuses what no decision can rest on. */
export function checkSetting({ surface, tolerance, draws, part, stakes, texture }: Setting): void {
  if (texture) checkTexture(texture);
  if (stakes) purseOf(stakes);
  if (!(tolerance.upper.si > 0)) {
    refuse("tolerance", `a tolerance of ${tolerance.upper.text()} can't be met; give a length above zero`);
  }
  needSource("decision.options", tolerance);
  if (draws !== undefined && !(draws >= 200)) {
    refuse("draws", `${draws} draws are too few to tell a chance of 95 %; give 200 or more`);
  }
  if (part && !(part.x.si > 0 && part.y.si > 0)) {
    refuse("part", `a part of ${part.x.text("mm")} × ${part.y.text("mm")} has no size; give both sides above zero`);
  }
  if (!(surface.gauge?.maximumPermissibleError?.si >= 0)) {
    refuse("gauge", `${surface.name} does not say how far its gauge may be wrong; give the maximum permissible error`);
  }
}

/** @throws MeasurementError `tolerance-source` */
export function needSource(where: string, { upper, source }: FlatnessTolerance): void {
  if (source.trim() !== "") return;
  throw new MeasurementError(
    "tolerance-source",
    `${where}: the tolerance of ${upper.text()} has no source; say where it comes from: a standard, the maker's sheet, the job`,
  );
}

function refuse(code: string, sentence: string): never {
  throw new MeasurementError(code, `decision.options: ${sentence}`);
}
