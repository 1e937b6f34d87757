import { MeasurementError } from "../measurement-error.js";
import { fUpperTailWhole } from "./f-tail.js";

/** How many parts, operators and repeats a crossed study has. */
export interface CrossedShape {
  readonly parts: number;
  readonly operators: number;
  readonly repeats: number;
}

/** One row of an analysis of variance. */
export interface AnovaRow {
  readonly sumOfSquares: number;
  readonly degreesOfFreedom: number;
  readonly meanSquare: number;
}

/** A row that is tested against another. */
export interface TestedRow extends AnovaRow {
  /** ratio of the mean squares; `Infinity` where nothing scatters but this */
  readonly f: number;
  /** probability of so large a ratio by chance alone */
  readonly p: number;
}

/** Crossed two-way analysis of variance with random effects. */
export interface TwoWayAnova {
  readonly shape: CrossedShape;
  readonly mean: number;
  /** against the interaction */
  readonly parts: TestedRow;
  /** against the interaction */
  readonly operators: TestedRow;
  /** against the repeats */
  readonly interaction: TestedRow;
  readonly repeats: AnovaRow;
  /** estimates of the four variances, with the interaction kept; any but the first may come out negative */
  readonly variances: {
    readonly repeats: number;
    readonly interaction: number;
    readonly operators: number;
    readonly parts: number;
  };
}

/**
 * Crossed two-way analysis of variance: every operator reads every part the same number of times.
 *
 * @param values readings, parts slowest, then operators, repeats quickest: parts × operators × repeats of them
 * @param shape at least two of each
 * @throws MeasurementError `study-shape`, `not-finite`
 * @see Searle, Casella and McCulloch, Variance Components (1992), 4.3: balanced data
 * @example
 * numerics.twoWayAnova([1, 2, 3, 4, 5, 6, 7, 10], { parts: 2, operators: 2, repeats: 2 }).repeats.sumOfSquares // => 6
 */
export function twoWayAnova(values: ArrayLike<number>, shape: CrossedShape): TwoWayAnova {
  needShape("twoWayAnova", shape, values.length, 1);
  return analyse(values, 0, shape, roomFor(shape));
}

/**
 * Many crossed studies of one shape at once, one after the other in one list of readings.
 *
 * @throws MeasurementError `study-shape`, `not-finite`
 * @example
 * numerics.twoWayAnovas([1, 2, 3, 4, 5, 6, 7, 10, 1, 2, 3, 4, 5, 6, 7, 8], { parts: 2, operators: 2, repeats: 2 }).map((study) => study.mean) // => [4.75, 4.5]
 */
export function twoWayAnovas(values: ArrayLike<number>, shape: CrossedShape): readonly TwoWayAnova[] {
  const size = shape.parts * shape.operators * shape.repeats;
  const count = needShape("twoWayAnovas", shape, values.length, values.length / size);
  const room = roomFor(shape);
  return Array.from({ length: count }, (_, i) => analyse(values, i * size, shape, room));
}

interface Room {
  readonly cells: Float64Array;
  readonly operators: Float64Array;
}

function roomFor({ parts, operators }: CrossedShape): Room {
  return { cells: new Float64Array(parts * operators), operators: new Float64Array(operators) };
}

/** Sums of squares about means, all taken from the first reading, so that a large common height costs no digits. */
function analyse(values: ArrayLike<number>, from: number, shape: CrossedShape, room: Room): TwoWayAnova {
  const { parts: p, operators: o, repeats: r } = shape;
  const zero = values[from]!;
  const { cells, operators } = room;
  operators.fill(0);
  let total = 0;
  let within = 0;
  let largest = 0;
  for (let i = 0, at = from; i < p; i++) {
    for (let j = 0; j < o; j++, at += r) {
      let sum = 0;
      for (let k = at; k < at + r; k++) sum += values[k]! - zero;
      const mean = sum / r;
      for (let k = at; k < at + r; k++) within += (values[k]! - zero - mean) ** 2;
      cells[i * o + j] = mean;
      operators[j] = operators[j]! + mean;
      total += mean;
      largest = Math.max(largest, Math.abs(mean));
    }
  }
  if (!Number.isFinite(total + within + zero)) refuseNumber(values, from, p * o * r);
  const grand = total / (p * o);
  let ofOperators = 0;
  for (let j = 0; j < o; j++) {
    const mean = operators[j]! / p;
    operators[j] = mean - grand;
    ofOperators += (mean - grand) ** 2;
  }
  let ofParts = 0;
  let ofCells = 0;
  for (let i = 0; i < p; i++) {
    let sum = 0;
    for (let j = 0; j < o; j++) sum += cells[i * o + j]!;
    const mean = sum / o;
    ofParts += (mean - grand) ** 2;
    for (let j = 0; j < o; j++) ofCells += (cells[i * o + j]! - mean - operators[j]!) ** 2;
  }
  // below this a sum of squares is the rounding of the readings themselves
  const least = p * o * r * (4e-16 * (Math.abs(zero) + largest)) ** 2;
  const sums = { parts: o * r * ofParts, operators: p * r * ofOperators, interaction: r * ofCells, repeats: within };
  return resultOf(shape, zero + grand, sums, least);
}

type Sums = { readonly [K in "parts" | "operators" | "interaction" | "repeats"]: number };

function resultOf(shape: CrossedShape, mean: number, sums: Sums, least: number): TwoWayAnova {
  const { parts: p, operators: o, repeats: r } = shape;
  const repeats = row(sums.repeats, p * o * (r - 1), least);
  const interaction = tested(row(sums.interaction, (p - 1) * (o - 1), least), repeats);
  const operators = tested(row(sums.operators, o - 1, least), interaction);
  const parts = tested(row(sums.parts, p - 1, least), interaction);
  const variances = {
    repeats: repeats.meanSquare,
    interaction: (interaction.meanSquare - repeats.meanSquare) / r,
    operators: (operators.meanSquare - interaction.meanSquare) / (p * r),
    parts: (parts.meanSquare - interaction.meanSquare) / (o * r),
  };
  return { shape, mean, parts, operators, interaction, repeats, variances };
}

function row(sum: number, degreesOfFreedom: number, least: number): AnovaRow {
  const sumOfSquares = sum > least ? sum : 0;
  return { sumOfSquares, degreesOfFreedom, meanSquare: sumOfSquares / degreesOfFreedom };
}

function tested(above: AnovaRow, below: AnovaRow): TestedRow {
  const { sumOfSquares, degreesOfFreedom, meanSquare } = above;
  const f = meanSquare === 0 ? 0 : meanSquare / below.meanSquare;
  const p = f === Number.POSITIVE_INFINITY ? 0 : fUpperTailWhole(f, degreesOfFreedom, below.degreesOfFreedom);
  return { sumOfSquares, degreesOfFreedom, meanSquare, f, p };
}

function needShape(where: string, shape: CrossedShape, given: number, count: number): number {
  for (const key of ["parts", "operators", "repeats"] as const) {
    if (Number.isInteger(shape[key]) && shape[key] >= 2) continue;
    throw new MeasurementError(
      "study-shape",
      `${where}: ${shape[key]} ${key}; give a whole number from 2, as nothing is told from one`,
    );
  }
  const size = shape.parts * shape.operators * shape.repeats;
  if (Number.isInteger(count) && count >= 1 && given === size * count) return count;
  throw new MeasurementError(
    "study-shape",
    `${where}: ${given} readings do not fill ${shape.parts} parts × ${shape.operators} operators × ${shape.repeats} repeats; give ${size} a study`,
  );
}

function refuseNumber(values: ArrayLike<number>, from: number, count: number): never {
  for (let i = from; i < from + count; i++) {
    if (Number.isFinite(values[i])) continue;
    throw new MeasurementError(
      "not-finite",
      `twoWayAnova: reading ${i + 1} is ${values[i]}; give a finite number, and leave out no cell`,
    );
  }
  throw new MeasurementError("not-finite", "twoWayAnova: the readings are too large to be squared; use a larger unit");
}
