import { type RandomStream, randomStream } from "../../kernel-lib/src/numerics/index.js";
import { um } from "../../kernel-lib/src/quantity/index.js";
import { type Budget, budget, type Input, input } from "../../kernel-lib/src/uncertainty/index.js";

/** One input of a simulated measurement: readings that scatter, or a stated law; the truth is 0, spread as stated in µm. */
type Source =
  | { readonly readings: number; readonly scatter: number }
  | { readonly law: "normal" | "rectangular" | "triangular" | "arcsine"; readonly u: number };

export interface CoverageCase {
  readonly name: string;
  readonly sources: readonly Source[];
  /** whether 94 to 96 % is claimed: normal inputs with ν of 4 or more, or none other above half of the variance */
  readonly claimed: boolean;
}

export const coverageCases: readonly CoverageCase[] = [
  { name: "five readings", claimed: true, sources: [{ readings: 5, scatter: 1 }] },
  {
    name: "five readings and ten, and a certificate",
    claimed: true,
    sources: [
      { readings: 5, scatter: 1 },
      { readings: 10, scatter: 2 },
      { law: "normal", u: 0.4 },
    ],
  },
  {
    name: "a certificate and a rectangular scale, half and half",
    claimed: true,
    sources: [
      { law: "normal", u: 1 },
      { law: "rectangular", u: 1 },
    ],
  },
  {
    name: "eight readings, a scale and a thermostat",
    claimed: true,
    sources: [
      { readings: 8, scatter: 3 },
      { law: "rectangular", u: 0.8 },
      { law: "arcsine", u: 0.5 },
    ],
  },
  { name: "one rectangular input", claimed: false, sources: [{ law: "rectangular", u: 1 }] },
  { name: "one arcsine input", claimed: false, sources: [{ law: "arcsine", u: 1 }] },
  {
    name: "two readings and ten",
    claimed: false,
    sources: [
      { readings: 2, scatter: 1 },
      { readings: 10, scatter: 1 },
    ],
  },
];

/** How often, of so many measurements made anew, the interval of the budget holds the truth, which is 0. */
export function coverageOf({ sources }: CoverageCase, repeats: number, seed: number): number {
  const stream = randomStream(seed);
  let hits = 0;
  for (let i = 0; i < repeats; i++) {
    const [low, high] = measurement(sources, stream).interval();
    if (low.si <= 0 && high.si >= 0) hits++;
  }
  return hits / repeats;
}

/** one such measurement, its estimates off by errors drawn from the laws */
export function measurement(sources: readonly Source[], stream: RandomStream): Budget<"length"> {
  const inputs = Object.fromEntries(sources.map((source, k) => [`x${k}`, drawn(source, `x${k}`, stream)]));
  return budget({
    measurand: "sum",
    inputs,
    model: (x) => Object.values(x).reduce((sum, value) => sum.plus(value)),
  });
}

function drawn(source: Source, label: string, stream: RandomStream): Input<"length"> {
  if ("readings" in source) {
    const readings = Array.from({ length: source.readings }, () => um(source.scatter * stream.normal()));
    return input.fromReadings({ label, readings });
  }
  const { law, u } = source;
  if (law === "normal") return input.normal({ label, estimate: um(u * stream.normal()), standardUncertainty: um(u) });
  const uniform = 2 * stream.uniform() - 1;
  const offset = {
    rectangular: Math.sqrt(3) * uniform,
    triangular: Math.sqrt(6) * Math.sign(uniform) * (1 - Math.sqrt(1 - Math.abs(uniform))),
    arcsine: Math.SQRT2 * Math.sin((Math.PI / 2) * uniform),
  }[law];
  const halfWidth = { rectangular: Math.sqrt(3), triangular: Math.sqrt(6), arcsine: Math.SQRT2 }[law] * u;
  return input[law]({ label, estimate: um(u * offset), halfWidth: um(halfWidth) });
}
