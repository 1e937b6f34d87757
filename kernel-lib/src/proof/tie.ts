import { MeasurementError } from "../measurement-error.js";
import { huberFit, solveSymmetric } from "../numerics/index.js";
import { counted } from "../words.js";
import type { Pair } from "./pairing.js";

/** How two maps were brought onto each other: a plane taken from their differences. */
export interface Tie {
  /** difference at each place with the plane taken out, µm */
  readonly tiedUm: readonly number[];
  /** the rows of the operator that did it, for the doubt: tied = rows × difference */
  readonly rows: readonly (readonly number[])[];
  readonly words: string;
}

/**
 * Takes offset and tilt out of the differences: the least-squares plane of those at the untouched places, or, where none
 * are named, a robust plane of all of them, which a few changed places do not pull.
 *
 * @param leastScaleUm what rounding alone leaves in a difference: where nearly all differences are nought the scale of
 *   the robust plane would otherwise shrink to nothing
 */
export function tie(pairs: readonly Pair[], untouched: readonly string[] | undefined, leastScaleUm: number): Tie {
  const changes = pairs.map(({ before, after }) => after.zUm - before.zUm);
  const columns = designOf(pairs);
  if (untouched === undefined) {
    const { weights } = huberFit(columns, changes, { leastScale: leastScaleUm });
    const rows = operator(columns, weights);
    return { tiedUm: applied(rows, changes), rows, words: "offset and tilt taken out by a robust plane of all places" };
  }
  const weights = weightsOf(pairs, untouched);
  const rows = operator(columns, weights);
  return { tiedUm: applied(rows, changes), rows, words: `tied at the untouched places ${untouched.join(", ")}` };
}

/** 1, x and y about the middle of the map, in half its size */
function designOf(pairs: readonly Pair[]): readonly number[][] {
  const scaled = (values: readonly number[]): number[] => {
    const [low, high] = [Math.min(...values), Math.max(...values)];
    return values.map((v) => (v - (low + high) / 2) / ((high - low) / 2 || 1));
  };
  return [pairs.map(() => 1), scaled(pairs.map((p) => p.before.xMm)), scaled(pairs.map((p) => p.before.yMm))];
}

function weightsOf(pairs: readonly Pair[], untouched: readonly string[]): readonly number[] {
  const missing = untouched.filter((label) => !pairs.some(({ before }) => before.label === label));
  const named = pairs.filter(({ before }) => untouched.includes(before.label));
  if (missing.length > 0) {
    throw new MeasurementError(
      "untouched",
      `proof.difference: ${missing.join(", ")} is named as untouched and was not probed in both surveys; name places that were`,
    );
  }
  if (named.length < 3 || areOnALine(named)) {
    throw new MeasurementError(
      "untouched",
      `proof.difference: ${counted(named.length, "untouched place")} on one line or fewer than three can't hold offset and tilt; name three that span the map`,
    );
  }
  return pairs.map(({ before }) => (untouched.includes(before.label) ? 1 : 0));
}

function areOnALine(pairs: readonly Pair[]): boolean {
  const points = pairs.map(({ before }) => before);
  const [a, b] = [points[0]!, points.find((p) => Math.hypot(p.xMm - points[0]!.xMm, p.yMm - points[0]!.yMm) > 0)];
  if (!b) return true;
  const length = Math.hypot(b.xMm - a.xMm, b.yMm - a.yMm);
  return points.every(
    (p) => Math.abs((b.xMm - a.xMm) * (p.yMm - a.yMm) - (b.yMm - a.yMm) * (p.xMm - a.xMm)) / length < 1,
  );
}

/** rows of I − X (X′WX)⁻¹ X′W */
function operator(columns: readonly (readonly number[])[], weights: readonly number[]): readonly (readonly number[])[] {
  const normal = columns.map((a) => columns.map((b) => a.reduce((s, v, i) => s + v * weights[i]! * b[i]!, 0)));
  const count = weights.length;
  const fitted = Array.from({ length: count }, (_, j) =>
    solveSymmetric(
      normal,
      columns.map((column) => column[j]! * weights[j]!),
    ),
  );
  return Array.from({ length: count }, (_, i) =>
    fitted.map((solution, j) => (i === j ? 1 : 0) - columns.reduce((s, column, k) => s + column[i]! * solution[k]!, 0)),
  );
}

export function applied(rows: readonly (readonly number[])[], values: readonly number[]): readonly number[] {
  return rows.map((row) => row.reduce((sum, factor, j) => sum + factor * values[j]!, 0));
}
