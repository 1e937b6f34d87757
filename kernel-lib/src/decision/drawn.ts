import type { DrawnSurface } from "../facing/true-surfaces.js";
import { leastSquaresPlane, minimumZonePlane, randomStream } from "../numerics/index.js";
import type { Length } from "../quantity/index.js";
import type { Setting } from "./setting.js";

/** Heights and their smooth form, µm, one per place. */
export type Drawn = Pick<DrawnSurface, "heightUm" | "smoothUm">;

/** What an option makes of a surface: heights afterwards; the uniform numbers are the same for both figures of a draw. */
export type Outcome = (drawn: Drawn, uniform: () => number) => readonly number[];

/** nothing is done */
export const asFound: Outcome = ({ heightUm }) => heightUm;

/** A map with its doubt drawn many times. */
export interface Draws {
  readonly input: Setting;
  readonly draws: readonly DrawnSurface[];
}

/**
 * Minimum zone flatness after an option, one per draw, µm.
 *
 * The readings hold the errors of form, drift, gauge and single places already, and these make a peak-to-valley greater
 * more often than smaller. Added to the readings once more they would count twice. So what they do to the figure of a
 * draw is taken off, not added: figure without them, less the change that they make, by the weight of the draw.
 */
export function drawnFlatness({ input, draws }: Draws, outcome: Outcome, only?: readonly number[]): readonly number[] {
  return draws.map((drawn, k) => {
    const figure = (surface: Drawn) => flatnessUm(input, outcome(surface, uniformsOf(input, k)), only);
    return lessErrors(figure(drawn.likely), figure(drawn), drawn.weight);
  });
}

/** What is left of the figure of a draw once what its errors make of it is taken off; no flatness is below nothing. */
function lessErrors(without: number, withThem: number, weight: number): number {
  return Math.max(0, without - weight * (withThem - without));
}

/** Flatness of the travel after an option, one per draw, µm: the table by a second survey less the map; taken as in
 * `drawnFlatness`. */
export function travelFlatness(
  { input, draws }: Draws,
  table: readonly DrawnSurface[],
  outcome: Outcome = asFound,
  only?: readonly number[],
): readonly number[] {
  const less = (a: readonly number[], b: readonly number[]) => a.map((value, i) => value - b[i]!);
  return draws.map((map, k) => {
    const figure = (of: Drawn, from: Drawn) => {
      const travel = { heightUm: less(of.heightUm, from.heightUm), smoothUm: less(of.smoothUm, from.smoothUm) };
      return flatnessUm(input, outcome(travel, uniformsOf(input, k)), only);
    };
    return lessErrors(figure(table[k]!.likely, map.likely), figure(table[k]!, map), map.weight);
  });
}

/** Minimum zone flatness of heights at the places of the map, or at those with the indices given. */
export function flatnessUm({ surface }: Setting, heightUm: readonly number[], only?: readonly number[]): number {
  const indices = only ?? heightUm.map((_, i) => i);
  const z = indices.map((i) => heightUm[i]!);
  const x = indices.map((i) => surface.places[i]!.xMm);
  const y = indices.map((i) => surface.places[i]!.yMm);
  return minimumZonePlane(x, y, z).zone;
}

/** How far out of parallel a stiff part comes that is clamped on it and faced: slope against travel × its size, µm; the
 * slope of all places, or of those with the indices given. */
export function outOfParallelUm(
  { surface }: Setting,
  heightUm: readonly number[],
  { x, y }: { readonly x: Length; readonly y: Length },
  only?: readonly number[],
): number {
  const indices = only ?? heightUm.map((_, i) => i);
  const xs = indices.map((i) => surface.places[i]!.xMm);
  const ys = indices.map((i) => surface.places[i]!.yMm);
  const plane = leastSquaresPlane(
    xs,
    ys,
    indices.map((i) => heightUm[i]!),
  );
  return Math.abs(plane.slopeX) * x.in("mm") + Math.abs(plane.slopeY) * y.in("mm");
}

/** independent uniform numbers for draw k, apart from those that made the surface */
export function uniformsOf({ seed = 1 }: Setting, k: number): () => number {
  return randomStream(seed, 2 ** 31 + k).uniform;
}
