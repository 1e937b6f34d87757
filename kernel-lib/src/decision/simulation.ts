import { standardDeviationOf } from "../facing/draws.js";
import { type DrawnSurface, type TrueSurfaces, trueSurfaces } from "../facing/true-surfaces.js";
import { localHighs } from "../form/index.js";
import { leastSquares } from "../numerics/index.js";
import type { Surface } from "../survey/surface.js";
import { asFound, type Drawn, type Draws, drawnFlatness, travelFlatness } from "./drawn.js";
import { secondSurvey } from "./second-survey.js";
import type { Setting } from "./setting.js";

/** What every option is worked out from: the map, its doubt drawn many times, and the tolerance. Heights in µm. */
export interface Simulation extends Draws {
  readonly doubt: TrueSurfaces;
  /** minimum zone flatness as found, one per draw */
  readonly foundUm: readonly number[];
  readonly toleranceUm: number;
  /** standard uncertainty of the flatness that this gauge and this map give */
  readonly uncertaintyUm: number;
  /** 1.645 u: what a claim at 95 % keeps clear of the tolerance (ISO 14253-1:2017) */
  readonly guardUm: number;
  /** places that stand high beyond the limit, by index */
  readonly highs: readonly number[];
  /** the second, independent survey at the same places; missing where there is none */
  readonly second: SecondMap | undefined;
}

/** The table by level or straightedge, at the places of the map. */
export interface SecondMap {
  readonly surface: Surface;
  readonly likelyUm: readonly number[];
  readonly draws: readonly DrawnSurface[];
  /** flatness of the travel as found, one per draw, µm: this survey less the map */
  readonly travelUm: readonly number[];
}

/** below this count a robust surface can't be told from its highs */
const leastForHighs = 12;

/** one-sided factor of the normal law at 95 % */
const oneSided = 1.6449;

export function simulate(input: Setting): Simulation {
  const { surface, seed = 1, draws: count = 1000 } = input;
  const doubt = trueSurfaces("decision.options", surface, seed);
  const draws = Array.from({ length: count }, (_, k) => doubt.draw(k));
  const foundUm = drawnFlatness({ input, draws }, asFound);
  const uncertaintyUm = standardDeviationOf(foundUm);
  return {
    input,
    doubt,
    draws,
    foundUm,
    toleranceUm: input.tolerance.upper.in("um"),
    uncertaintyUm,
    guardUm: oneSided * uncertaintyUm,
    highs: highsOf(input, doubt),
    second: secondOf({ input, draws }, seed),
  };
}

function secondOf(map: Draws, seed: number): SecondMap | undefined {
  const { independent } = map.input;
  if (!independent) return undefined;
  const surface = secondSurvey({ ...map.input, independent });
  const doubt = trueSurfaces("decision.options", surface, seed + 1);
  const draws = map.draws.map((_, k) => doubt.draw(k));
  return { surface, likelyUm: doubt.likelyUm, draws, travelUm: travelFlatness(map, draws) };
}

/** The denoised heights, where one surface has to stand for all draws. */
export function likelySurface({ doubt }: Simulation): Drawn {
  return { heightUm: doubt.likelyUm, smoothUm: doubt.smoothUm };
}

/** Takes a share of the twist (the term in x · y, tilt fitted beside it) out of heights; made once for a map. */
export function twistRemover({ surface }: Setting): (drawn: Drawn, share: number) => number[] {
  const u = centred(surface.places.map((p) => p.xMm));
  const v = centred(surface.places.map((p) => p.yMm));
  const product = u.map((x, i) => x * v[i]!);
  // what of the product no plane can follow: projected on it, heights give the coefficient of the twist
  const { residuals, residualSumOfSquares } = leastSquares([u.map(() => 1), u, v], product);
  return ({ heightUm, smoothUm }, share) => {
    const projected = smoothUm.reduce((sum, z, i) => sum + z * residuals[i]!, 0);
    // places on a cross can't show a twist: none is taken out
    const coefficient = residualSumOfSquares > 1e-9 ? projected / residualSumOfSquares : 0;
    return heightUm.map((z, i) => z - share * coefficient * product[i]!);
  };
}

function highsOf({ surface, highs }: Setting, likely: TrueSurfaces): readonly number[] {
  if (!highs && surface.places.length < leastForHighs) {
    return likely.standsOut.filter((i) => surface.places[i]!.zUm > likely.smoothUm[i]!);
  }
  const { areas } = highs ?? localHighs(surface);
  const labels = new Set(areas.flatMap((area) => area.places.map((p) => p.label)));
  return surface.places.flatMap((p, i) => (labels.has(p.label) ? [i] : []));
}

function centred(values: readonly number[]): number[] {
  const [low, high] = [Math.min(...values), Math.max(...values)];
  return values.map((value) => (2 * value - low - high) / (high - low));
}
