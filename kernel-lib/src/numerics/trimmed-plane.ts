import { MeasurementError } from "../measurement-error.js";
import { Concentration, choices, everyChoice } from "./concentration.js";
import { leastSquaresPlane } from "./least-squares-plane.js";
import { randomStream } from "./random.js";

/** The plane that fits best those points that fit best. */
export interface TrimmedPlane {
  readonly slopeX: number;
  readonly slopeY: number;
  readonly offset: number;
  /** the points it rests on, by index */
  readonly kept: readonly number[];
  /** sum of their squared distances along z */
  readonly sumOfSquares: number;
  /** true when every choice of points was tried, false when restarts led to it */
  readonly exact: boolean;
}

const restarts = 500;
const tried = 20_000;

/**
 * Least trimmed squares: of all choices of `keep` points the one whose own least-squares plane leaves least. For a corner
 * that is damaged, or a table of which only a part is true.
 *
 * Every choice is tried where there are no more than 20,000; otherwise planes through three points each, seeded, are
 * drawn towards the points that fit them best (the best of 500 restarts).
 *
 * @param keep how many points, from (n + 4)/2, which stands up to most damage, to n
 * @throws MeasurementError `too-few-places`, `not-finite`, `on-a-line`, `keep`
 * @see Rousseeuw and Van Driessen, Computing LTS regression for large data sets, 2006
 * @example
 * numerics.trimmedPlane([0, 1, 2, 0, 1, 2], [0, 0, 0, 1, 1, 1], [0, 0, 0, 0, 0, 9], 5).kept.join() // => "0,1,2,3,4"
 */
export function trimmedPlane(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  z: ArrayLike<number>,
  keep: number = Math.floor((z.length + 4) / 2),
): TrimmedPlane {
  // refuses what has no plane
  leastSquaresPlane(x, y, z);
  const n = z.length;
  if (!(Number.isInteger(keep) && keep >= Math.floor((n + 4) / 2) && keep <= n)) {
    throw new MeasurementError(
      "keep",
      `trimmedPlane: ${keep} of ${n} points to keep; give a whole number from ${Math.floor((n + 4) / 2)} to ${n}`,
    );
  }
  const work = new Concentration(x, y, z, keep);
  const exact = choices(n, keep) <= tried;
  if (exact) everyChoice(n, keep, (chosen) => work.offer(chosen));
  else restart(work, n);
  const kept = work.best();
  const pick = (values: ArrayLike<number>) => kept.map((i) => values[i]!);
  const { slopeX, slopeY, offset } = leastSquaresPlane(pick(x), pick(y), pick(z));
  const sumOfSquares = kept.reduce((s, i) => s + (z[i]! - slopeX * x[i]! - slopeY * y[i]! - offset) ** 2, 0);
  return { slopeX, slopeY, offset, kept, sumOfSquares, exact };
}

function restart(work: Concentration, n: number): void {
  const stream = randomStream(20_061);
  const draw = () => Math.floor(n * stream.uniform());
  for (let k = 0; k < restarts; k++) {
    // three points that do not lie on a line; a map has plenty
    for (let turn = 0; turn < 50; turn++) if (work.throughThree(draw(), draw(), draw())) break;
    work.concentrate(k < 10 ? 200 : 2);
  }
  work.finish();
}
