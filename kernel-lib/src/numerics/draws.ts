import { blockWords } from "./random.js";
import { type Ziggurat, ziggurat } from "./ziggurat.js";

/**
 * Random numbers a column at a time, from the stream of a seed and a block (xoshiro128++). Deviates have 53 bits: two
 * words of 32 each.
 */
export class Draws {
  private readonly normalLaw = ziggurat();
  /** the state of the generator */
  private readonly words = new Int32Array(4);
  /** bits of the last column of uniform numbers that went into none of them */
  private spare = new Uint8Array(0);
  private rare = new Int32Array(0);

  /** To the beginning of a block. @throws MeasurementError `seed` */
  start(seed: number, block: number): void {
    this.words.set(blockWords(seed, block));
  }

  /** Uniform between −1 and 1, neither of them nor 0 ever reached; times a scale, plus a shift. */
  symmetric(out: Float64Array, shift = 0, scale = 1): void {
    const { words } = this;
    if (this.spare.length < out.length) {
      this.spare = new Uint8Array(out.length);
      this.rare = new Int32Array(out.length);
    }
    const { spare } = this;
    let a = words[0]!;
    let b = words[1]!;
    let c = words[2]!;
    let d = words[3]!;
    for (let i = 0; i < out.length; i++) {
      // twice xoshiro128++, written out for speed
      let sum = (a + d) | 0;
      const high = (((sum << 7) | (sum >>> 25)) + a) | 0;
      let t = b << 9;
      c ^= a;
      d ^= b;
      b ^= c;
      a ^= d;
      c ^= t;
      d = (d << 11) | (d >>> 21);
      sum = (a + d) | 0;
      const low = (((sum << 7) | (sum >>> 25)) + a) | 0;
      t = b << 9;
      c ^= a;
      d ^= b;
      b ^= c;
      a ^= d;
      c ^= t;
      d = (d << 11) | (d >>> 21);
      spare[i] = low;
      out[i] = shift + scale * fraction(high, low);
    }
    words[0] = a;
    words[1] = b;
    words[2] = c;
    words[3] = d;
  }

  /** Triangular between −1 and 1, by the root that turns a uniform value into it; scaled and shifted. */
  triangular(out: Float64Array, shift = 0, scale = 1): void {
    this.symmetric(out);
    for (let i = 0; i < out.length; i++) {
      const v = out[i]!;
      // sign(v) (1 − √(1 − |v|)) without a branch
      out[i] = shift + (scale * v) / (1 + Math.sqrt(1 - Math.abs(v)));
    }
  }

  /** Arcsine between −1 and 1: sin(½π v) of a uniform v, by its series; scaled and shifted. */
  arcsine(out: Float64Array, shift = 0, scale = 1): void {
    this.symmetric(out);
    for (let i = 0; i < out.length; i++) out[i] = shift + scale * sineOfQuarters(out[i]!);
  }

  /** Standard normal, or another law that a ziggurat was made for; scaled and shifted. */
  normal(out: Float64Array, shift = 0, scale = 1, law: Ziggurat = this.normalLaw): void {
    this.symmetric(out);
    const { spare, rare } = this;
    const { ends, inside } = law;
    let count = 0;
    // the rare cases come after the others: without calls the engine keeps this loop short
    for (let i = 0; i < out.length; i++) {
      // the layer and the place in it come from different bits (Doornik, 2005)
      const layer = spare[i]!;
      const part = out[i]!;
      if (Math.abs(part) < inside[layer]!) out[i] = shift + scale * (part * ends[layer]!);
      else rare[count++] = i;
    }
    for (let k = 0; k < count; k++) {
      const i = rare[k]!;
      out[i] = shift + scale * this.beyond(law, spare[i]!, out[i]!);
    }
  }

  /** √(ν / χ²): what standard normal columns are multiplied by to become Student's t. */
  spread(out: Float64Array, degreesOfFreedom: number): void {
    for (let i = 0; i < out.length; i++) out[i] = Math.sqrt(degreesOfFreedom / this.chiSquared(degreesOfFreedom));
  }

  /** Uniform between 0 and 1, 0 never reached. */
  unit(): number {
    const high = this.word() >>> 0;
    const low = this.word() >>> 11;
    return (high * 2_097_152 + low + 0.5) / 9_007_199_254_740_992;
  }

  /** Marsaglia and Tsang, A simple method for generating gamma variables, ACM Trans. Math. Softw. 26 (2000) 363. */
  private chiSquared(degreesOfFreedom: number): number {
    const half = degreesOfFreedom / 2;
    // below 1 a gamma variable of one more, and a power of a uniform one
    const d = (half < 1 ? half + 1 : half) - 1 / 3;
    const c = 1 / Math.sqrt(9 * d);
    for (;;) {
      const z = this.one();
      const root = 1 + c * z;
      const cube = root * root * root;
      if (!(cube > 0)) continue;
      if (Math.log(this.unit()) >= (z * z) / 2 + d * (1 - cube + Math.log(cube))) continue;
      return 2 * d * cube * (half < 1 ? this.unit() ** (1 / half) : 1);
    }
  }

  /** one standard normal number */
  private one(): number {
    const [high, low] = [this.word(), this.word()];
    return this.beyond(this.normalLaw, low & 255, fraction(high, low));
  }

  /** the rarer cases of the ziggurat: the tail, and the slivers above the straight part of a layer */
  private beyond({ ends, inside, heights, curve }: Ziggurat, firstLayer: number, firstPart: number): number {
    let layer = firstLayer;
    let part = firstPart;
    for (;;) {
      const x = part * ends[layer]!;
      if (Math.abs(part) < inside[layer]!) return x;
      if (layer === 0) return Math.sign(part) * curve.beyond(ends[1]!, this.unit());
      const height = heights[layer]! + this.unit() * (heights[layer + 1]! - heights[layer]!);
      if (height < curve.height(Math.abs(x))) return x;
      const [high, low] = [this.word(), this.word()];
      layer = low & 255;
      part = fraction(high, low);
    }
  }

  /** the next 32 bits */
  private word(): number {
    const { words } = this;
    const [a, b, c, d] = [words[0]!, words[1]!, words[2]!, words[3]!];
    const sum = (a + d) | 0;
    const third = c ^ a;
    const fourth = d ^ b;
    words[0] = a ^ fourth;
    words[1] = b ^ third;
    words[2] = third ^ (b << 9);
    words[3] = (fourth << 11) | (fourth >>> 21);
    return (((sum << 7) | (sum >>> 25)) + a) | 0;
  }
}

/** two words as a number between −1 and 1, in steps of 2⁻⁵² about the halves of them */
function fraction(high: number, low: number): number {
  return (high * 2_097_152 + (low >>> 11) + 0.5) / 4_503_599_627_370_496;
}

/** sin(½π v) for |v| ≤ 1 to 5 × 10⁻¹⁴: Taylor's series to v¹⁷ */
function sineOfQuarters(v: number): number {
  const x = (Math.PI / 2) * v;
  const s = x * x;
  let sum = 1 / 355_687_428_096_000;
  sum = sum * s - 1 / 1_307_674_368_000;
  sum = sum * s + 1 / 6_227_020_800;
  sum = sum * s - 1 / 39_916_800;
  sum = sum * s + 1 / 362_880;
  sum = sum * s - 1 / 5040;
  sum = sum * s + 1 / 120;
  sum = sum * s - 1 / 6;
  return x + x * s * sum;
}
