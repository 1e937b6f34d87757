import { standardDeviationOf } from "../facing/draws.js";
import { type DrawnSurface, type TrueSurfaces, trueSurfaces } from "../facing/true-surfaces.js";
import { localHighs } from "../form/index.js";
import { leastSquares, leastSquaresPlane, minimumZonePlane, randomStream } from "../numerics/index.js";
import type { Length } from "../quantity/index.js";
import type { Surface } from "../survey/surface.js";
import { secondSurvey } from "./second-survey.js";
import type { Setting } from "./setting.js";

/** What every option is worked out from: the map, its doubt drawn many times, and the tolerance. Heights in µm. */
export interface Simulation {
  readonly input: Setting;
  readonly doubt: TrueSurfaces;
  readonly draws: readonly DrawnSurface[];
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
}

/** below this count a robust surface can't be told from its highs */
const leastForHighs = 12;

/** one-sided factor of the normal law at 95 % */
const oneSided = 1.6449;

export function simulate(input: Setting): Simulation {
  const { surface, seed = 1, draws: count = 1000 } = input;
  const doubt = trueSurfaces("decision.options", surface, seed);
  const draws = Array.from({ length: count }, (_, k) => doubt.draw(k));
  const foundUm = drawnFlatness({ input, draws }, ({ heightUm }) => heightUm);
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
    second: secondOf(input, seed, count),
  };
}

function secondOf(input: Setting, seed: number, count: number): SecondMap | undefined {
  const { independent } = input;
  if (!independent) return undefined;
  const surface = secondSurvey({ ...input, independent });
  const doubt = trueSurfaces("decision.options", surface, seed + 1);
  return { surface, likelyUm: doubt.likelyUm, draws: Array.from({ length: count }, (_, k) => doubt.draw(k)) };
}

/** Heights and their smooth form, µm, one per place. */
export type Drawn = Pick<DrawnSurface, "heightUm" | "smoothUm">;

/** What an option makes of a surface: heights afterwards; the uniform numbers are the same for both figures of a draw. */
export type Outcome = (drawn: Drawn, uniform: () => number) => readonly number[];

/**
 * Minimum zone flatness after an option, one per draw, µm.
 *
 * The readings hold the errors of form, drift, gauge and single places already, and these make a peak-to-valley greater
 * more often than smaller. Added to the readings once more they would count twice. So what they do to the figure of a
 * draw is taken off, not added: figure without them, less the change that they make.
 */
export function drawnFlatness(
  { input, draws }: Pick<Simulation, "input" | "draws">,
  outcome: Outcome,
  only?: readonly number[],
): readonly number[] {
  return draws.map((drawn, k) => {
    const figure = (surface: Drawn) => flatnessUm(input, outcome(surface, uniformsOf(input, k)), only);
    return Math.max(0, 2 * figure(drawn.likely) - figure(drawn));
  });
}

/** What a correction leaves: of the travel, and on the map, µm. */
interface Corrected {
  readonly travel: readonly number[];
  readonly map: readonly number[];
}

/** Flatness of what a correction leaves of the travel and on the map, one per draw; taken as in `drawnFlatness`. */
export function drawnDifference(
  { input, draws }: Pick<Simulation, "input" | "draws">,
  correct: (mapUm: readonly number[], k: number, uniform: () => number, likely: boolean) => Corrected,
): { readonly travelUm: readonly number[]; readonly mapUm: readonly number[] } {
  const both = draws.map((drawn, k) => {
    const wide = correct(drawn.heightUm, k, uniformsOf(input, k), false);
    const likely = correct(drawn.likely.heightUm, k, uniformsOf(input, k), true);
    const figure = (of: keyof Corrected) =>
      Math.max(0, 2 * flatnessUm(input, likely[of]) - flatnessUm(input, wide[of]));
    return { travel: figure("travel"), map: figure("map") };
  });
  return { travelUm: both.map(({ travel }) => travel), mapUm: both.map(({ map }) => map) };
}

/** Minimum zone flatness of heights at the places of the map, or at those with the indices given. */
export function flatnessUm({ surface }: Setting, heightUm: readonly number[], only?: readonly number[]): number {
  const indices = only ?? heightUm.map((_, i) => i);
  const z = indices.map((i) => heightUm[i]!);
  const x = indices.map((i) => surface.places[i]!.xMm);
  const y = indices.map((i) => surface.places[i]!.yMm);
  return minimumZonePlane(x, y, z).zone;
}

/** independent uniform numbers for draw k, apart from those that made the surface */
export function uniformsOf({ seed = 1 }: Setting, k: number): () => number {
  return randomStream(seed, 2 ** 31 + k).uniform;
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

/** How far out of parallel a stiff part comes that is clamped on it and faced: slope against travel × its size. */
export function outOfParallelUm({ surface }: Setting, heightUm: readonly number[], x: Length, y: Length): number {
  const xs = surface.places.map((p) => p.xMm);
  const ys = surface.places.map((p) => p.yMm);
  const plane = leastSquaresPlane(xs, ys, heightUm);
  return Math.abs(plane.slopeX) * x.in("mm") + Math.abs(plane.slopeY) * y.in("mm");
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
