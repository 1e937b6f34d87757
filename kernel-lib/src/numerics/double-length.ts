/** Sums of products carried in twice the length of a double (Dekker 1971; Ogita, Rump and Oishi 2005), for residuals
 * whose digits would otherwise cancel. */

const splitter = 134_217_729;

/** a sum of products in double length; `value()` rounds it once */
export class LongSum {
  private high = 0;
  private low = 0;

  add(value: number): void {
    const sum = this.high + value;
    const part = sum - this.high;
    this.low += this.high - (sum - part) + (value - part);
    this.high = sum;
  }

  addProduct(a: number, b: number): void {
    const product = a * b;
    const ta = splitter * a;
    const aHigh = ta - (ta - a);
    const aLow = a - aHigh;
    const tb = splitter * b;
    const bHigh = tb - (tb - b);
    const bLow = b - bHigh;
    this.low += aLow * bLow - (product - aHigh * bHigh - aLow * bHigh - aHigh * bLow);
    this.add(product);
  }

  value(): number {
    return this.high + this.low;
  }
}

/** Σ a·b, rounded once. */
export function longDot(a: ArrayLike<number>, b: ArrayLike<number>): number {
  const sum = new LongSum();
  for (let i = 0; i < a.length; i++) sum.addProduct(a[i]!, b[i]!);
  return sum.value();
}
