import { MeasurementError } from "../measurement-error.js";

/** A stream of random numbers that is the same every time it is made from the same seed. */
export interface RandomStream {
  /** uniform in [0, 1), 53 bits */
  uniform(): number;
  /** normal, mean 0 and standard deviation 1 */
  normal(): number;
}

/**
 * Seeded stream of random numbers: xoshiro128++ (Blackman and Vigna, 2019), its state filled by splitmix64.
 *
 * Block b of a long simulation takes `randomStream(seed, b)`: the blocks may then run in any order, on any number of
 * cores, with the same figures.
 *
 * @param seed an integer from 0 to 2⁵³ − 1
 * @param block an integer from 0 to 2³² − 1
 * @throws MeasurementError `seed`
 * @example
 * numerics.randomStream(7).uniform() === numerics.randomStream(7).uniform() // => true
 */
export function randomStream(seed: number, block = 0): RandomStream {
  const next32 = xoshiro128(blockWords(seed, block));
  let spare = Number.NaN;

  const uniform = () => ((next32() >>> 5) * 67_108_864 + (next32() >>> 6)) / 9_007_199_254_740_992;

  // Marsaglia's polar method makes two deviates at a time
  const normal = () => {
    if (!Number.isNaN(spare)) {
      const kept = spare;
      spare = Number.NaN;
      return kept;
    }
    for (;;) {
      const u = 2 * uniform() - 1;
      const v = 2 * uniform() - 1;
      const s = u * u + v * v;
      if (s > 0 && s < 1) {
        const factor = Math.sqrt((-2 * Math.log(s)) / s);
        spare = v * factor;
        return u * factor;
      }
    }
  };
  return { uniform, normal };
}

/** xoshiro128++ from four 32-bit words, not all zero; each call gives the next 32 bits, as an unsigned number. */
export function xoshiro128(words: readonly [number, number, number, number]): () => number {
  let [a, b, c, d] = words;
  return () => {
    const sum = (a + d) | 0;
    const result = (((sum << 7) | (sum >>> 25)) + a) >>> 0;
    const t = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= t;
    d = (d << 11) | (d >>> 21);
    return result;
  };
}

const mask = 0xffff_ffff_ffff_ffffn;

/** The first `count` outputs of splitmix64 (Steele, Lea and Flood, 2014). */
export function splitmix64(seed: bigint, count: number): readonly bigint[] {
  let state = seed;
  return Array.from({ length: count }, () => {
    state = (state + 0x9e37_79b9_7f4a_7c15n) & mask;
    let z = state;
    z = ((z ^ (z >> 30n)) * 0xbf58_476d_1ce4_e5b9n) & mask;
    z = ((z ^ (z >> 27n)) * 0x94d0_49bb_1331_11ebn) & mask;
    return z ^ (z >> 31n);
  });
}

/** Where block b of the stream of a seed begins. @throws MeasurementError `seed` */
export function blockWords(seed: number, block: number): readonly [number, number, number, number] {
  if (!Number.isSafeInteger(seed) || !(seed >= 0)) {
    throw new MeasurementError("seed", `randomStream: seed ${seed} is not a whole number from 0 to 9007199254740991`);
  }
  if (!(Number.isInteger(block) && block >= 0 && block < 2 ** 32)) {
    throw new MeasurementError("seed", `randomStream: block ${block} is not a whole number from 0 to 4294967295`);
  }
  const start = block === 0 ? BigInt(seed) : BigInt(seed) ^ splitmix64(BigInt(block), 1)[0]!;
  const [p, q] = splitmix64(start, 2) as [bigint, bigint];
  const low = (word: bigint) => Number(word & 0xffff_ffffn) | 0;
  return [low(p), low(p >> 32n), low(q), low(q >> 32n)];
}
