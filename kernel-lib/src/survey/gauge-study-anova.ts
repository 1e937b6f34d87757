import type { AnovaRow, TwoWayAnova } from "../numerics/index.js";
import type { Variance, Variances } from "./gauge-study-split.js";

/** Variances of a study and what had to be said about them. */
export interface VarianceSplit {
  readonly variances: Variances;
  readonly notes: readonly string[];
}

/** a mean square and its share in a component */
type Part = readonly [row: AnovaRow, coefficient: number];

/** EV, AV, INT, PV from the mean squares of a crossed study, the interaction kept. */
export function splitWithInteraction(
  anova: TwoWayAnova,
  words: { readonly INT: string; readonly AV: string; readonly PV: string },
): VarianceSplit {
  const { shape, parts, operators, interaction, repeats } = anova;
  const { parts: p, operators: o, repeats: r } = shape;
  return join(
    { EV: [[repeats, 1]] },
    {
      INT: difference(interaction, repeats, r),
      AV: difference(operators, interaction, p * r),
      PV: difference(parts, interaction, o * r),
    },
    words,
  );
}

/** The same with the interaction pooled into the repeats. */
export function splitPooled(anova: TwoWayAnova, words: { readonly AV: string; readonly PV: string }): VarianceSplit {
  const { shape, parts, operators } = anova;
  const pooled = pooledRow(anova);
  return join(
    { EV: [[pooled, 1]] },
    {
      AV: difference(operators, pooled, shape.parts * shape.repeats),
      PV: difference(parts, pooled, shape.operators * shape.repeats),
    },
    words,
  );
}

/** interaction and repeats as one row */
export function pooledRow({ interaction, repeats }: TwoWayAnova): AnovaRow {
  const sumOfSquares = interaction.sumOfSquares + repeats.sumOfSquares;
  const degreesOfFreedom = interaction.degreesOfFreedom + repeats.degreesOfFreedom;
  return {
    sumOfSquares,
    degreesOfFreedom,
    meanSquare: sumOfSquares / degreesOfFreedom,
  };
}

/** A study by one operator: parts against repeats. */
export function splitOneWay(valuesUm: readonly number[], parts: number, words: { readonly PV: string }): VarianceSplit {
  const repeats = valuesUm.length / parts;
  const zero = valuesUm[0]!;
  const means = Array.from({ length: parts }, (_, i) => {
    const own = valuesUm.slice(i * repeats, (i + 1) * repeats);
    return own.reduce((sum, value) => sum + (value - zero), 0) / repeats;
  });
  const grand = means.reduce((sum, mean) => sum + mean, 0) / parts;
  const within = valuesUm.reduce((sum, value, i) => sum + (value - zero - means[Math.floor(i / repeats)]!) ** 2, 0);
  const between = repeats * means.reduce((sum, mean) => sum + (mean - grand) ** 2, 0);
  const ofRepeats = rowOf(within, parts * (repeats - 1));
  return join({ EV: [[ofRepeats, 1]] }, { PV: difference(rowOf(between, parts - 1), ofRepeats, repeats) }, words);
}

function rowOf(sumOfSquares: number, degreesOfFreedom: number): AnovaRow {
  return {
    sumOfSquares,
    degreesOfFreedom,
    meanSquare: sumOfSquares / degreesOfFreedom,
  };
}

function difference(above: AnovaRow, below: AnovaRow, count: number): readonly Part[] {
  return [
    [above, 1 / count],
    [below, -1 / count],
  ];
}

type Key = "EV" | "AV" | "INT" | "PV";
type Parts = { readonly [K in Key]?: readonly Part[] };

/** Components from their shares of the mean squares; negative ones become zero, and that is said. */
function join(repeats: Parts, others: Parts, words: { readonly [K in Key]?: string }): VarianceSplit {
  const notes: string[] = [];
  const all = { ...repeats, ...others };
  const kept: { [K in Key]?: readonly Part[] } = {};
  for (const key of ["EV", "AV", "INT", "PV"] as const) {
    const parts = all[key];
    if (!parts) continue;
    const value = sumOf(parts);
    kept[key] = value >= 0 ? parts : [];
    if (value < 0) notes.push(negativeNote(words[key] ?? key, value));
  }
  const variances: { [K in Key | "GRR"]?: Variance } = {};
  for (const [key, parts] of Object.entries(kept) as [Key, readonly Part[]][]) variances[key] = varianceOf(parts);
  variances.GRR = varianceOf((["EV", "AV", "INT"] as const).flatMap((key) => kept[key] ?? []));
  return { variances, notes };
}

function negativeNote(name: string, value: number): string {
  return `the variance of ${name} came out negative (${Number(value.toPrecision(3))} µm²) and was set to zero: it is too small for this study to see`;
}

function sumOf(parts: readonly Part[]): number {
  return parts.reduce((sum, [row, coefficient]) => sum + coefficient * row.meanSquare, 0);
}

/** value and effective degrees of freedom of Σ c MS (Satterthwaite 1946); a row that occurs twice counts once */
function varianceOf(parts: readonly Part[]): Variance {
  const total = new Map<AnovaRow, number>();
  for (const [row, coefficient] of parts) total.set(row, (total.get(row) ?? 0) + coefficient);
  const value = Math.max(0, sumOf(parts));
  const doubt = [...total].reduce((sum, [row, c]) => sum + (c * row.meanSquare) ** 2 / row.degreesOfFreedom, 0);
  return value > 0 ? { value, degreesOfFreedom: (value * value) / doubt } : { value };
}
