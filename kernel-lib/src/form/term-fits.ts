import { fUpperTail, type LeastSquares, leastSquares, orthonormal } from "../numerics/index.js";
import { Quantity, um } from "../quantity/index.js";
import type { Surface } from "../survey/surface.js";
import { Measured, type Term } from "../uncertainty/index.js";
import { gaugeInput, type MapDoubt, mapDoubt, noiseInput } from "./flatness-terms.js";
import type { FormTerm, Rest } from "./make-up.js";
import { likeness } from "./neighbours.js";
import type { Places } from "./places.js";
import { legendreProducts } from "./smooth-form.js";

/** Least-squares fits of Legendre products to one map, by their greatest total degree. */
export interface TermFits {
  /** the greatest degree that rows, columns and number of places bear: 2 to 4 */
  readonly degree: number;
  /** names of the columns: "1", "x", "y", "x²", "xy", "y²", "x³" … */
  readonly names: readonly string[];
  readonly fit: (degree: number) => LeastSquares;
  /** sum of squares of the heights that each column adds to those before it */
  readonly squares: readonly number[];
  /** sum of squares of the heights about their mean */
  readonly total: number;
}

export function termFits({ x, y, z }: Places): TermFits {
  const lines = Math.min(new Set(x).size, new Set(y).size);
  const bears = (degree: number) => lines > degree && columnCount(degree) <= 0.6 * z.length;
  const degree = bears(4) ? 4 : bears(3) ? 3 : 2;
  const columns = legendreProducts(x, y, degree);
  const squares = orthonormal(columns).map((q) => q.reduce((s, v, i) => s + v * z[i]!, 0) ** 2);
  const mean = z.reduce((s, v) => s + v, 0) / z.length;
  return {
    degree,
    names: namesOf(degree),
    fit: (upTo) => leastSquares(columns.slice(0, columnCount(upTo)), z),
    squares,
    total: z.reduce((s, v) => s + (v - mean) ** 2, 0),
  };
}

function columnCount(degree: number): number {
  return ((degree + 1) * (degree + 2)) / 2;
}

const powers = ["", "", "²", "³", "⁴"];

function namesOf(degree: number): readonly string[] {
  const letter = (name: string, power: number) => (power === 0 ? "" : `${name}${powers[power]}`);
  return Array.from({ length: degree + 1 }, (_, total) =>
    Array.from({ length: total + 1 }, (__, j) => letter("x", total - j) + letter("y", j) || "1"),
  ).flat();
}

/** Makes the terms of one fit: amplitude with its uncertainty, share, F tests. */
export class TermMaker {
  readonly rest: Rest;
  private readonly doubt: MapDoubt;
  private readonly modes: readonly (readonly number[])[];
  private readonly raised: number;
  private readonly noise;

  constructor(
    private readonly surface: Surface,
    places: Places,
    private readonly fit: LeastSquares,
    private readonly fits: TermFits,
  ) {
    this.doubt = mapDoubt(surface, places);
    const { coefficients, residuals, degreesOfFreedom, residualSumOfSquares } = fit;
    const columns = legendreProducts(places.x, places.y, fits.degree).slice(0, coefficients.length);
    this.modes = (surface.drift?.modesUm ?? []).map((mode) => leastSquares(columns, mode).coefficients);
    this.noise = noiseInput(this.doubt, "reading noise", um(surface.noise.standardUncertaintyUm));
    // neighbours that are alike by r along a line leave (1 − r)/(1 + r) of its places independent
    const { alongX, alongY } = likeness(places, residuals);
    this.raised = ((1 + alongX) / (1 - alongX)) * ((1 + alongY) / (1 - alongY));
    this.rest = {
      share: fits.total > 0 ? residualSumOfSquares / fits.total : 0,
      standardDeviationUm: Math.sqrt(residualSumOfSquares / degreesOfFreedom),
      degreesOfFreedom,
      independent: Math.max(1, degreesOfFreedom / this.raised),
    };
  }

  /**
   * @param scaleSi amplitude in SI for a coefficient of 1 µm
   * @param gaugeShare how far the error of the gauge on a difference of two heights goes into the amplitude
   */
  make<K extends "slope" | "length">(
    name: string,
    k: number,
    kind: K,
    scaleSi: number,
    gaugeShare: number,
  ): FormTerm<K> {
    const { fit, fits, surface, doubt } = this;
    const perUm = scaleSi * 1e6;
    const c = fit.coefficients[k]!;
    const terms: Term[] = [
      { input: this.noise, sensitivity: perUm * Math.sqrt(fit.covarianceFactor[k]![k]!) },
      ...this.modes.map((mode, m) => ({ input: doubt.drift[m]!, sensitivity: mode[k]! * scaleSi })),
      { input: gaugeInput(surface, `gauge, error in ${name}`), sensitivity: gaugeShare },
    ];
    const { standardUncertaintyUm, degreesOfFreedom } = surface.noise;
    // what the term adds to all others of the fit
    const added = c ** 2 / fit.covarianceFactor[k]![k]!;
    const meanSquare = this.rest.standardDeviationUm ** 2 * this.raised;
    return {
      name,
      amplitude: Measured.of(Quantity.fromSi(kind, c * scaleSi), terms),
      coefficientUm: c,
      share: fits.total > 0 ? fits.squares[k]! / fits.total : 0,
      beyondGauge: against(added, standardUncertaintyUm ** 2, degreesOfFreedom),
      beyondUnevenness: against(added, meanSquare, this.rest.independent),
    };
  }
}

function against(square: number, variance: number, degreesOfFreedom: number): { F: number; p: number } {
  if (!(variance > 0)) return { F: Number.POSITIVE_INFINITY, p: square > 0 ? 0 : 1 };
  const F = square / variance;
  // beyond a thousand million the law is the one of an exactly known variance
  return { F, p: fUpperTail(F, 1, Math.min(degreesOfFreedom, 1e9)) };
}
