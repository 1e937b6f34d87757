import { leastSquares } from "../numerics/index.js";
import { type Length, Quantity, um } from "../quantity/index.js";
import { input, Measured } from "../uncertainty/index.js";

/** A move that did not arrive. */
export interface LostMove {
  /** number of the move, from 1 */
  readonly move: number;
  readonly commanded: Length;
  readonly seen: Length;
}

/** A ladder on plain numbers. */
export interface PlainLadder {
  readonly commandedUm: readonly number[];
  readonly readingsUm: readonly number[];
  readonly modelUm: readonly number[];
}

/** moves (from 0) that the fitted play lets through whole */
export function followingMoves(commanded: readonly number[], model: readonly number[]): readonly number[] {
  return commanded.slice(1).flatMap((command, i) => {
    const asked = command - commanded[i]!;
    return Math.abs(model[i + 1]! - model[i]! - asked) < 0.05 * Math.abs(asked) ? [i] : [];
  });
}

/** lost moves and jumps; hidden where two steps of the scatter of a difference reach half a move */
export function oddMoves({ commandedUm, readingsUm }: PlainLadder, following: readonly number[], scatter: number) {
  const moves = following.map((i) => {
    const commanded = commandedUm[i + 1]! - commandedUm[i]!;
    return { i, commanded, seen: readingsUm[i + 1]! - readingsUm[i]! };
  });
  const hidden = moves.some(({ commanded }) => 2 * scatter > Math.abs(commanded) / 2);
  const pick = (odd: (share: number) => boolean): LostMove[] =>
    moves
      .filter(({ commanded, seen }) => !hidden && odd(seen / commanded))
      .map(({ i, commanded, seen }) => ({ move: i + 1, commanded: um(commanded), seen: um(seen) }));
  return { hidden, lost: pick((share) => share < 0.5), jumps: pick((share) => share > 1.5) };
}

/** over how many moves in a row each way the readings always went half of the way at least */
export function smallestSeen(
  { commandedUm, readingsUm }: PlainLadder,
  following: readonly number[],
): Length | undefined {
  const follows = new Set(following);
  for (let n = 1; n <= commandedUm.length / 2; n++) {
    const spans = following.filter((i) => Array.from({ length: n }, (_, k) => i + k).every((k) => follows.has(k)));
    const whole = spans.filter(
      (i) => Math.sign(commandedUm[i + n]! - commandedUm[i]!) === Math.sign(commandedUm[i + 1]! - commandedUm[i]!),
    );
    const arrives = (i: number) =>
      (readingsUm[i + n]! - readingsUm[i]!) / (commandedUm[i + n]! - commandedUm[i]!) >= 0.5;
    if (whole.length >= 2 && whole.every(arrives)) {
      return um(Math.max(...whole.map((i) => Math.abs(commandedUm[i + n]! - commandedUm[i]!))));
    }
  }
  return undefined;
}

/** slope through both regions at once, each with its own height */
export function slopeOfFollowing({ commandedUm, readingsUm }: PlainLadder, playUm: number): Measured<"number"> {
  const top = commandedUm.indexOf(Math.max(...commandedUm));
  const limit = commandedUm[top]! - playUm;
  const kept = commandedUm.flatMap((command, i) => (i <= top || command < limit ? [i] : []));
  const down = kept.map((i) => (i > top ? 1 : 0));
  const columns = [kept.map(() => 1), kept.map((i) => commandedUm[i]!)];
  if (down.some((flag) => flag === 1)) columns.push(down);
  const fit = leastSquares(
    columns,
    kept.map((i) => readingsUm[i]!),
  );
  const u = fit.residualStandardDeviation * Math.sqrt(fit.covarianceFactor[1]![1]!);
  const value = Quantity.fromSi("number", fit.coefficients[1]!);
  const zero = Quantity.fromSi("number", 0);
  const scatter = input.t({
    label: "scatter about the line",
    estimate: zero,
    standardUncertainty: Quantity.fromSi("number", Math.max(u, 1e-9)),
    degreesOfFreedom: fit.degreesOfFreedom,
    source: `${kept.length} readings`,
  });
  return Measured.of(value, [{ input: scatter, sensitivity: 1 }]);
}
