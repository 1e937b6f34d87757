import { parseSurvey, type Surface } from "../../kernel-lib/src/survey/index.js";

interface Height {
  readonly place: string;
  readonly xMm: number;
  readonly yMm: number;
  readonly zUm: number;
}

/** What the inventing script gives for one seed. */
export interface Invented {
  readonly sheets: { readonly [file: string]: string };
  readonly truth: {
    readonly swarf: { readonly place: string; readonly pass: number };
    readonly warmUp: { readonly riseUm: number; readonly timeConstantMin: number };
    readonly noiseUm: number;
    readonly ding: { readonly rimHeightUm: number };
    readonly heights: { readonly [file: string]: readonly Height[] };
  };
}

// plain JavaScript without declarations, on purpose: it knows nothing of the package
const script = (await import(new URL("../../data/invent.mjs", import.meta.url).href)) as {
  readonly invent: (seed?: number) => Invented;
};
export const invent = script.invent;

/** The table as surveyed, the swarf reading set aside, and the true heights of the same places. */
export function surveyedTable({ sheets, truth }: Invented): { map: Surface; trueUm: number[]; stonedUm: number[] } {
  const { place, pass } = truth.swarf;
  const map = parseSurvey(sheets["table-before.csv"]!, { name: "table-before.csv" })
    .withoutReading(place, pass, "swarf, seen on the stylus")
    .surface();
  const at = (file: string) => {
    const heights = new Map(truth.heights[file]!.map((h) => [h.place, h.zUm]));
    return map.places.map((p) => heights.get(p.label)!);
  };
  return { map, trueUm: at("table-before.csv"), stonedUm: at("table-stoned.csv") };
}

/** Least and greatest count of hits that a claim allows in n trials, 99.9 % of the time (binomial, two-sided). */
export function binomialBand(n: number, p: number): readonly [number, number] {
  const tail = 0.0005;
  // in logarithms: 0.05 to the power of 1000 is no double
  const chances: number[] = [];
  let log = n * Math.log(1 - p);
  for (let k = 0; k <= n; k++) {
    chances.push(Math.exp(log));
    log += Math.log(((n - k) * p) / ((k + 1) * (1 - p)));
  }
  let below = 0;
  let low = 0;
  while (below + chances[low]! < tail) below += chances[low++]!;
  let above = 0;
  let high = n;
  while (above + chances[high]! < tail) above += chances[high--]!;
  return [low, high];
}
