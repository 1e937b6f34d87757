import type { Surface } from "../survey/surface.js";
import type { Pitch } from "./neighbours.js";
import type { Places } from "./places.js";

/** How heights between the places are found. */
export type SurfaceMethod = "gaussian process" | "thin-plate spline" | "triangulated" | "bilinear";

/** A method as it is written in a sentence: Gauss was a person. */
export function methodWords(method: SurfaceMethod): string {
  return method.replace("gaussian", "Gaussian");
}

/** What every method is given. */
export interface MethodInput {
  readonly surface: Surface;
  readonly places: Places;
  readonly pitch: Pitch;
  /** variance of each place's height from its readings, µm² */
  readonly nugget: readonly number[];
}

/** Heights and their standard uncertainty (readings, drift and what may lie between; the gauge's own error is not in it), in µm;
 * both NaN where the method says nothing. */
export interface Heights {
  readonly meanUm: readonly number[];
  readonly uUm: readonly number[];
}

/** One reading against all the others, in µm: what it shows beyond them, and how far it should. */
export interface LeftOut {
  /** NaN at places that the others do not surround */
  readonly residualsUm: readonly number[];
  readonly standardDeviationsUm: readonly number[];
}

/** A method fitted to one map. */
export interface FittedMethod {
  readonly name: SurfaceMethod;
  /** what was fitted, in words */
  readonly statement: string;
  readonly heights: (xMm: readonly number[], yMm: readonly number[]) => Heights;
  readonly leftOut: () => LeftOut;
  /** covariances of the errors at places among themselves, µm², row by row; missing where the method knows none */
  readonly covariances?: (xMm: readonly number[], yMm: readonly number[]) => readonly number[];
}
