import { type MinimumZone, minimumZonePlane, orthonormal } from "../numerics/index.js";
import { minimumZoneWidths } from "../numerics/minimum-zone.js";
import { type Length, um } from "../quantity/index.js";
import { Measured } from "../uncertainty/index.js";
import { type Doubt, type MapDoubt, widthTerms } from "./flatness-terms.js";
import { type FigureOfHeights, noiseBiases } from "./noise-bias.js";
import { type Places, range } from "./places.js";

/** A peak-to-valley figure: as read, what the noise of the readings added to it, and what is left. */
export interface CorrectedWidth {
  readonly raw: Length;
  /** by so much the noise makes the figure too high on average; found by seeded simulation at the smooth form */
  readonly bias: Length;
  /** raw − bias, not below zero, with its uncertainty */
  readonly corrected: Measured<"length">;
}

/** the form without noise as best judged, then others that the readings bear */
type Forms = readonly (readonly number[])[];

/** Peak to valley about the least-squares plane. */
export function leastSquaresWidth(doubt: MapDoubt, forms: Forms, seed: number): CorrectedWidth {
  const reduce = planeRemoval(doubt.places);
  const without = (heights: readonly number[]) => {
    const left = Float64Array.from(heights);
    reduce(left);
    return left;
  };
  const residuals = without(doubt.places.z);
  const high = residuals.indexOf(Math.max(...residuals));
  const low = residuals.indexOf(Math.min(...residuals));
  const drift = (doubt.surface.drift?.modesUm ?? []).map((mode) => {
    const moved = without(mode);
    return moved[high]! - moved[low]!;
  });
  return corrected(doubt, forms, { reduce, figure: range }, { raw: range(residuals), seed, draws: 2000, drift });
}

/** Takes the least-squares plane out of heights at fixed places. */
function planeRemoval({ x, y }: Places): (heights: Float64Array) => void {
  const columns = orthonormal([x.map(() => 1), x, y]);
  return (left) => {
    for (const column of columns) {
      let s = 0;
      for (let i = 0; i < left.length; i++) s += column[i]! * left[i]!;
      for (let i = 0; i < left.length; i++) left[i] = left[i]! - s * column[i]!;
    }
  };
}

/** Width of the minimum zone, contacts exchanged afresh in every draw of the simulation. */
export function minimumZoneWidth(
  doubt: MapDoubt,
  forms: Forms,
  seed: number,
): { readonly plane: MinimumZone; readonly width: CorrectedWidth } {
  const { x, y, z } = doubt.places;
  const plane = minimumZonePlane(x, y, z);
  // the width is twice the shared mean of upper less lower contacts: how a mode moves it
  const drift = (doubt.surface.drift?.modesUm ?? []).map((mode) =>
    plane.certificate.shares.reduce((s, c) => s + 2 * c.share * (c.side === "upper" ? 1 : -1) * mode[c.index]!, 0),
  );
  const figure = minimumZoneWidths(x, y);
  return { plane, width: corrected(doubt, forms, { figure }, { raw: plane.zone, seed, draws: 300, drift }) };
}

/** A width with its bias at the forms taken off, and its uncertainty. */
export function corrected(
  doubt: Doubt,
  forms: Forms,
  figure: FigureOfHeights,
  options: { readonly raw: number; readonly seed: number; readonly draws: number; readonly drift: readonly number[] },
): CorrectedWidth {
  const { raw } = options;
  const [bias, ...others] = noiseBiases(forms, doubt.surface.noise.standardUncertaintyUm, figure, options);
  const apart = others.map((other) => Math.abs(other.bias - bias!.bias));
  return {
    raw: um(raw),
    bias: um(bias!.bias),
    corrected: Measured.of(
      um(Math.max(raw - bias!.bias, 0)),
      widthTerms(doubt, bias!, Math.max(0, ...apart), options.drift),
    ),
  };
}
