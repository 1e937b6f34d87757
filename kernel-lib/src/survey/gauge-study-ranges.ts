import type { VarianceSplit } from "./gauge-study-anova.js";
import type { StudyCells } from "./gauge-study-cells.js";

/** What the worksheet of the average-and-range method is filled in with, in µm. */
export interface RangeFigures {
  readonly averageRange: number;
  /** greatest less least mean of the operators; missing where there is one only */
  readonly differenceOfOperators?: number;
  readonly rangeOfParts: number;
}

/** 1/d₂ for 2 to 10 repeats, many ranges averaged (ISO 7870-2; AIAG MSA, K₁) */
const repeatFactors = [0.8862, 0.5908, 0.4857, 0.4299, 0.3946, 0.3698, 0.3512, 0.3367, 0.3249];
/** 1/d₂* for one range of 2 to 10 values (AIAG MSA, K₂ and K₃) */
// biome-ignore lint/suspicious/noApproximativeNumericConstant: the four digits of the printed table
const rangeFactors = [0.7071, 0.5231, 0.4467, 0.403, 0.3742, 0.3534, 0.3375, 0.3249, 0.3146];
export const mostRanged = 10;

/** The three figures of the worksheet. */
export function rangeFigures({ parts, operators, repeats, valuesUm }: StudyCells): RangeFigures {
  const [p, o] = [parts.length, operators.length];
  const cells = Array.from({ length: p * o }, (_, i) => valuesUm.slice(i * repeats, (i + 1) * repeats));
  const ofOperators = Array.from({ length: o }, (_, j) => mean(cells.filter((_, i) => i % o === j).flat()));
  const ofParts = Array.from({ length: p }, (_, i) => mean(cells.slice(i * o, (i + 1) * o).flat()));
  return {
    averageRange: mean(cells.map(range)),
    ...(o > 1 ? { differenceOfOperators: range(ofOperators) } : {}),
    rangeOfParts: range(ofParts),
  };
}

/** Variances by averages and ranges; undefined where there are more than ten of anything, as the factors are tabled so far. */
export function splitByRanges(
  figures: RangeFigures,
  {
    parts,
    operators,
    repeats,
  }: {
    readonly parts: number;
    readonly operators: number;
    readonly repeats: number;
  },
  operatorWord: string,
): VarianceSplit | undefined {
  if (Math.max(parts, operators, repeats) > mostRanged) return undefined;
  const ev = (figures.averageRange * repeatFactors[repeats - 2]!) ** 2;
  const pv = (figures.rangeOfParts * rangeFactors[parts - 2]!) ** 2;
  const difference = figures.differenceOfOperators;
  if (difference === undefined)
    return {
      variances: { EV: { value: ev }, GRR: { value: ev }, PV: { value: pv } },
      notes: [],
    };
  const av = (difference * rangeFactors[operators - 2]!) ** 2 - ev / (parts * repeats);
  const notes =
    av < 0
      ? [`the variance of ${operatorWord} came out negative and was set to zero: it is too small for this study to see`]
      : [];
  const kept = Math.max(av, 0);
  return {
    variances: {
      EV: { value: ev },
      AV: { value: kept },
      GRR: { value: ev + kept },
      PV: { value: pv },
    },
    notes,
  };
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}

function range(values: readonly number[]): number {
  return Math.max(...values) - Math.min(...values);
}
