import { blockWords } from "./random.js";
import { type Ziggurat, ziggurat } from "./ziggurat.js";

/** words made at a time */
const batch = 2048;

/**
 * Random numbers a column at a time, from the stream of a seed and a block (xoshiro128++). Deviates have 53 bits: two
 * words of 32 each.
 */
export class Draws {
  private readonly normalLaw = ziggurat();
  private readonly words = new Int32Array(batch);
  private at = batch;
  private state: readonly [number, number, number, number] = [0, 0, 0, 0];

  /** To the beginning of a block. @throws MeasurementError `seed` */
  start(seed: number, block: number): void {
    this.state = blockWords(seed, block);
    this.at = batch;
  }

  /** Uniform between −1 and 1, neither of them nor 0 ever reached; times a scale, plus a shift. */
  symmetric(out: Float64Array, shift = 0, scale = 1): void {
    // the generator written out: twice as quick as words from the batch
    let [a, b, c, d] = this.state;
    for (let i = 0; i < out.length; i++) {
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
      out[i] = shift + scale * fraction(high, low);
    }
    this.state = [a, b, c, d];
  }

  /** Triangular between −1 and 1, by the root that turns a uniform value into it; scaled and shifted. */
  triangular(out: Float64Array, shift = 0, scale = 1): void {
    this.symmetric(out);
    for (let i = 0; i < out.length; i++) {
      const v = out[i]!;
      const far = scale * (1 - Math.sqrt(1 - Math.abs(v)));
      out[i] = v < 0 ? shift - far : shift + far;
    }
  }

  /** Arcsine between −1 and 1: sin(½π v) of a uniform v, by its series; scaled and shifted. */
  arcsine(out: Float64Array, shift = 0, scale = 1): void {
    this.symmetric(out);
    for (let i = 0; i < out.length; i++) out[i] = shift + scale * sineOfQuarters(out[i]!);
  }

  /** Standard normal, or another law that a ziggurat was made for; scaled and shifted. */
  normal(out: Float64Array, shift = 0, scale = 1, law: Ziggurat = this.normalLaw): void {
    const { words } = this;
    const { ends, inside } = law;
    let at = this.at;
    for (let i = 0; i < out.length; i++) {
      if (at === batch) at = this.refill();
      const low = words[at + 1]!;
      // the layer and the place in it come from different bits (Doornik, 2005)
      const layer = low & 255;
      const part = fraction(words[at]!, low);
      at += 2;
      if (Math.abs(part) < inside[layer]!) {
        out[i] = shift + scale * (part * ends[layer]!);
        continue;
      }
      this.at = at;
      out[i] = shift + scale * this.beyond(law, layer, part);
      at = this.at;
    }
    this.at = at;
  }

  /** √(ν / χ²): what standard normal columns are multiplied by to become Student's t. */
  spread(out: Float64Array, degreesOfFreedom: number): void {
    for (let i = 0; i < out.length; i++) out[i] = Math.sqrt(degreesOfFreedom / this.chiSquared(degreesOfFreedom));
  }

  /** Uniform between 0 and 1, 0 never reached. */
  unit(): number {
    if (this.at === batch) this.at = this.refill();
    const high = this.words[this.at]! >>> 0;
    const low = this.words[this.at + 1]! >>> 11;
    this.at += 2;
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
    if (this.at === batch) this.at = this.refill();
    const low = this.words[this.at + 1]!;
    const part = fraction(this.words[this.at]!, low);
    this.at += 2;
    return this.beyond(this.normalLaw, low & 255, part);
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
      if (this.at === batch) this.at = this.refill();
      layer = this.words[this.at + 1]! & 255;
      part = fraction(this.words[this.at]!, this.words[this.at + 1]!);
      this.at += 2;
    }
  }

  private refill(): 0 {
    const { words } = this;
    let [a, b, c, d] = this.state;
    for (let i = 0; i < batch; i++) {
      const sum = (a + d) | 0;
      words[i] = (((sum << 7) | (sum >>> 25)) + a) | 0;
      const t = b << 9;
      c ^= a;
      d ^= b;
      b ^= c;
      a ^= d;
      c ^= t;
      d = (d << 11) | (d >>> 21);
    }
    this.state = [a, b, c, d];
    return 0;
  }
}

/** two words as a number between −1 and 1, in steps of 2⁻⁵² about the halves of them */
function fraction(high: number, low: number): number {
  return (high * 2_097_152 + (low >>> 11) + 0.5) / 4_503_599_627_370_496;
}

/** sin(½π v) for |v| ≤ 1, to the last bit but one: Taylor's series to v²¹ */
function sineOfQuarters(v: number): number {
  const x = (Math.PI / 2) * v;
  const s = x * x;
  let sum = 1 / 51_090_942_171_709_440_000;
  sum = sum * s - 1 / 121_645_100_408_832_000;
  sum = sum * s + 1 / 355_687_428_096_000;
  sum = sum * s - 1 / 1_307_674_368_000;
  sum = sum * s + 1 / 6_227_020_800;
  sum = sum * s - 1 / 39_916_800;
  sum = sum * s + 1 / 362_880;
  sum = sum * s - 1 / 5040;
  sum = sum * s + 1 / 120;
  sum = sum * s - 1 / 6;
  return x + x * s * sum;
}
