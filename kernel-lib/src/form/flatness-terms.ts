import { cholesky, leastSquares } from "../numerics/index.js";
import { type Length, Quantity, um } from "../quantity/index.js";
import type { Surface } from "../survey/surface.js";
import { Input, input, type Term } from "../uncertainty/index.js";
import type { NoiseBias } from "./noise-bias.js";
import { type Places, range } from "./places.js";

/** What the figures of one map or line share: how its noise was estimated, its drift, its gauge. */
export interface Doubt {
  readonly surface: Pick<Surface, "noise" | "caveat"> & { readonly gauge?: Surface["gauge"] };
  /** identity of the estimate of the noise: figures from one map count its degrees of freedom once */
  readonly group: object;
  /** one input per way in which the drift may be wrong; shared by all figures of the map */
  readonly drift: readonly Input<"number">[];
}

export interface MapDoubt extends Doubt {
  readonly surface: Surface;
  readonly places: Places;
}

export function mapDoubt(surface: Surface, places: Places): MapDoubt {
  return { ...newDoubt(surface, surface.drift?.modesUm.length ?? 0), surface, places };
}

/** fresh inputs for so many ways in which the drift may be wrong */
export function newDoubt(surface: Doubt["surface"], modes: number): Doubt {
  const drift = Array.from({ length: modes }).map((_, k) =>
    input.normal({
      label: `drift of the set-up, part ${k + 1}`,
      estimate: Quantity.fromSi("number", 0),
      standardUncertainty: Quantity.fromSi("number", 1),
      source: "datum returns",
    }),
  );
  return { surface, group: {}, drift };
}

/** a standard uncertainty that rests on the noise of the map's readings */
export function noiseInput(doubt: Doubt, label: string, spread: Length): Input<"length"> {
  const { noise, caveat } = doubt.surface;
  return new Input({
    label,
    estimate: um(0),
    standardUncertainty: spread,
    distribution: "normal",
    degreesOfFreedom: noise.degreesOfFreedom,
    evaluation: "A",
    source: noise.source ?? "repeats of the survey",
    group: doubt.group,
    caveat,
  });
}

/** Terms of the two tilts: what the noise does to both, the drift, and the gauge over the length of the map.
 * `weights`: what each place counts for in the plane, taken as it is. */
export function tiltTerms(doubt: MapDoubt, weights?: readonly number[]): readonly [x: Term[], y: Term[]] {
  const { surface, places } = doubt;
  const { x, y } = places;
  const roots = x.map((_, i) => Math.sqrt(weights?.[i] ?? 1));
  const weighted = (values: readonly number[]) => values.map((v, i) => v * roots[i]!);
  const fitted = (heights: readonly number[]) => leastSquares([roots, weighted(x), weighted(y)], weighted(heights));
  const { covarianceFactor: c } = fitted(places.z);
  const factor = cholesky([
    [c[1]![1]!, c[1]![2]!],
    [c[2]![1]!, c[2]![2]!],
  ]);
  const sigma = um(surface.noise.standardUncertaintyUm);
  const parts = ["reading noise", "reading noise, second part"].map((label) => noiseInput(doubt, label, sigma));
  // slopes are per mm, SI slope is metre per metre
  const perMm = 1000;
  const noise = (row: number) => parts.map((part, k) => ({ input: part, sensitivity: factor[row]![k]! * perMm }));
  const modes = (surface.drift?.modesUm ?? []).map((mode) => fitted(mode).coefficients);
  const drift = (slope: 1 | 2) =>
    modes.map((mode, k) => ({ input: doubt.drift[k]!, sensitivity: mode[slope]! / perMm }));
  const gauge = (extentMm: number, along: string) => ({
    input: gaugeInput(surface, `gauge, error over the map along ${along}`),
    sensitivity: perMm / extentMm,
  });
  return [
    [...noise(0), ...drift(1), gauge(range(x), "x")],
    [...noise(1), ...drift(2), gauge(range(y), "y")],
  ];
}

/** Terms of a peak-to-valley figure: noise, how well its bias is known, drift at the extremes, gauge.
 * `apartUm`: how far the bias at another form lies from the one taken off. */
export function widthTerms(doubt: Doubt, bias: NoiseBias, apartUm: number, driftUm: readonly number[]): Term[] {
  const { surface } = doubt;
  const sigma = surface.noise.standardUncertaintyUm;
  const terms: Term[] = [
    { input: noiseInput(doubt, "reading noise", um(sigma)), sensitivity: bias.spread / sigma },
    ...(surface.gauge
      ? [{ input: gaugeInput({ gauge: surface.gauge }, "gauge, error between highest and lowest"), sensitivity: 1 }]
      : []),
    ...driftUm.map((size, k) => ({ input: doubt.drift[k]!, sensitivity: size * 1e-6 })),
  ];
  if (apartUm > 0) {
    const choice = input.normal({
      label: "form without noise, in the correction",
      estimate: um(0),
      standardUncertainty: um(apartUm),
      source: "other forms that the readings bear",
    });
    terms.push({ input: choice, sensitivity: 1 });
  }
  const nu = surface.noise.degreesOfFreedom;
  if (Number.isFinite(nu) && bias.growth !== 0) {
    const relative = Quantity.fromSi("number", 1 / Math.sqrt(2 * nu));
    const known = input.normal({
      label: "size of the noise, in the correction",
      estimate: Quantity.fromSi("number", 1),
      standardUncertainty: relative,
      source: `${nu} degrees of freedom of the noise`,
    });
    terms.push({ input: known, sensitivity: bias.growth * 1e-6 });
  }
  return terms;
}

/** the error of the gauge on a difference of two heights */
export function gaugeInput({ gauge }: Pick<Surface, "gauge">, label: string): Input<"length"> {
  return input.rectangular({
    label,
    estimate: um(0),
    halfWidth: gauge.maximumPermissibleError,
    source: `maximum permissible error of ${gauge.name}, ± over the range used`,
  });
}
