import { normalCdf } from "../numerics/index.js";

/** Readings of small moves in µm. */
export interface PlayReadings {
  readonly commandedUm: readonly number[];
  readonly readingsUm: readonly number[];
  /** readings are rounded to this */
  readonly stepUm: number;
}

/** What the readings say of the play, everything else averaged over. */
export interface PlayPosterior {
  readonly meanUm: number;
  readonly deviationUm: number;
  /** shortest stretch from the low to the high end that leaves 2.5 % on each side */
  readonly interval: readonly [number, number];
  /** scatter of one reading beside its rounding */
  readonly scatterUm: number;
  readonly offsetUm: number;
}

/**
 * Where an axis with play stands after each command, the way up having been taken up first: it follows upwards, stands still
 * on the turn until the play is taken up, and follows again.
 */
export function placesWithPlay(commandedUm: readonly number[], playUm: number): number[] {
  let place = commandedUm[0]!;
  return commandedUm.map((command) => {
    place = Math.min(Math.max(place, command), command + playUm);
    return place;
  });
}

/**
 * Posterior of the play from readings that are rounded: the chance of each reading is that of its whole step, Φ(upper) −
 * Φ(lower). Flat prior for the play from zero on and for the offset, 1/σ for the scatter; summed over a grid.
 */
export function playPosterior({ commandedUm, readingsUm, stepUm }: PlayReadings): PlayPosterior {
  const start = leastSquaresPlay(commandedUm, readingsUm);
  const own = Math.sqrt(Math.max(start.scatter ** 2 - stepUm ** 2 / 12, 0));
  const reach = stepUm + 6 * (start.scatter / Math.sqrt(commandedUm.length / 2));
  const plays = grid(Math.max(0, start.play - reach), start.play + reach, 81);
  const offsets = grid(start.offset - reach, start.offset + reach, 33);
  const scatters = Array.from(
    { length: 13 },
    (_, i) => 0.06 * stepUm * ((2.5 * own + stepUm) / (0.06 * stepUm)) ** (i / 8),
  );
  const weights = plays.map(() => 0);
  let [top, total, scatter, offset] = [Number.NEGATIVE_INFINITY, 0, 0, 0];
  const chances = scatters.map((sigma) => logChances(stepUm, sigma));
  plays.forEach((play, i) => {
    const places = placesWithPlay(commandedUm, play);
    const offs = readingsUm.map((reading, k) => reading - places[k]!);
    for (const [j, sigma] of scatters.entries()) {
      for (const shift of offsets) {
        const logarithm = logLikelihood(offs, shift, chances[j]!, top - 40);
        if (logarithm === Number.NEGATIVE_INFINITY) continue;
        if (logarithm > top) {
          const factor = Math.exp(top - logarithm);
          for (let k = 0; k <= i; k++) weights[k] = weights[k]! * factor;
          [total, scatter, offset] = [total * factor, scatter * factor, offset * factor];
          top = logarithm;
        }
        // the grid of σ is even in its logarithm: the prior 1/σ is in it
        const weight = Math.exp(logarithm - top);
        weights[i] = weights[i]! + weight;
        total += weight;
        scatter += weight * sigma;
        offset += weight * shift;
      }
    }
  });
  const mean = plays.reduce((sum, play, i) => sum + play * weights[i]!, 0) / total;
  const variance = plays.reduce((sum, play, i) => sum + (play - mean) ** 2 * weights[i]!, 0) / total;
  const cell = plays[1]! - plays[0]!;
  return {
    meanUm: mean,
    deviationUm: Math.sqrt(variance + cell ** 2 / 12),
    interval: [quantile(plays, weights, total, 0.025), quantile(plays, weights, total, 0.975)],
    scatterUm: scatter / total,
    offsetUm: offset / total,
  };
}

/** logarithm of the chance of a reading by how far its place lies from it, in a table that is even in distance */
interface LogChances {
  readonly perUm: number;
  readonly table: Float64Array;
}

/** points of the table in one σ: between them the logarithm bends by less than 1/20 000 */
const pointsInSigma = 50;

function logChances(step: number, sigma: number): LogChances {
  const perUm = pointsInSigma / sigma;
  const table = new Float64Array(Math.ceil((step / 2 + 37 * sigma) * perUm) + 2);
  for (let k = 0; k < table.length; k++) {
    const far = k / perUm;
    // in the tail where both are small and do not lose digits
    const chance = normalCdf((step / 2 - far) / sigma) - normalCdf((-step / 2 - far) / sigma);
    table[k] = chance > 1e-300 ? Math.log(chance) : Number.NEGATIVE_INFINITY;
  }
  return { perUm, table };
}

/** given up, at minus infinity, as soon as it falls below the least that matters */
function logLikelihood(offs: readonly number[], shift: number, { perUm, table }: LogChances, least: number): number {
  let sum = 0;
  for (let k = 0; k < offs.length && sum > least; k++) {
    const at = Math.abs(offs[k]! - shift) * perUm;
    const below = Math.trunc(at);
    if (!(below + 1 < table.length)) return Number.NEGATIVE_INFINITY;
    sum += table[below]! + (at - below) * (table[below + 1]! - table[below]!);
  }
  return sum > least ? sum : Number.NEGATIVE_INFINITY;
}

/** the play with the least sum of squares on a grid of candidates, the offset taken out: a start */
function leastSquaresPlay(commanded: readonly number[], readings: readonly number[]) {
  const span = Math.max(...commanded) - Math.min(...commanded);
  let best = { play: 0, offset: 0, scatter: Number.POSITIVE_INFINITY };
  for (const play of grid(0, span, 401)) {
    const offs = placesWithPlay(commanded, play).map((place, k) => readings[k]! - place);
    const offset = offs.reduce((a, b) => a + b, 0) / offs.length;
    const scatter = Math.sqrt(offs.reduce((sum, off) => sum + (off - offset) ** 2, 0) / (offs.length - 1));
    if (scatter < best.scatter) best = { play, offset, scatter };
  }
  return best;
}

function grid(from: number, to: number, count: number): number[] {
  return Array.from({ length: count }, (_, i) => from + ((to - from) * i) / (count - 1));
}

function quantile(values: readonly number[], weights: readonly number[], total: number, part: number): number {
  let sum = 0;
  for (let i = 0; i < values.length; i++) {
    const next = sum + weights[i]! / total;
    if (next >= part) {
      const before = i === 0 ? values[0]! : values[i - 1]!;
      return before + (values[i]! - before) * ((part - sum) / (next - sum));
    }
    sum = next;
  }
  return values.at(-1)!;
}
