/** 2⁻⁵³, the greatest relative error of one rounding */
const half = Number.EPSILON / 2;
/** bounds of J. R. Shewchuk, "Adaptive Precision Floating-Point Arithmetic and Fast Robust Geometric Predicates" (1997) */
const turnBound = (3 + 16 * half) * half;
const circleBound = (10 + 96 * half) * half;

/** Positive where a, b, c run counter-clockwise, zero where they lie on one line: exact in its sign, which alone it gives. */
export function turn(au: number, av: number, bu: number, bv: number, cu: number, cv: number): number {
  const left = (au - cu) * (bv - cv);
  const right = (av - cv) * (bu - cu);
  const found = left - right;
  if (Math.abs(found) > turnBound * (Math.abs(left) + Math.abs(right))) return found;
  const [aU, aV, bU, bV, cU, cV] = wholeNumbers([au, av, bu, bv, cu, cv]) as [
    bigint,
    bigint,
    bigint,
    bigint,
    bigint,
    bigint,
  ];
  return signOf((aU - cU) * (bV - cV) - (aV - cV) * (bU - cU));
}

/**
 * Positive where d lies inside the circle through a, b, c, which run counter-clockwise; zero on it: exact in its sign,
 * which alone it gives.
 *
 * @param at coordinates of a, b, c, d: u and v in turn
 */
export function inCircle(at: readonly [number, number, number, number, number, number, number, number]): number {
  const [au, av, bu, bv, cu, cv, du, dv] = at;
  const [a, b, c, d, e, f] = [au - du, av - dv, bu - du, bv - dv, cu - du, cv - dv];
  const [a2, b2, c2] = [a * a + b * b, c * c + d * d, e * e + f * f];
  const found = a2 * (c * f - d * e) + b2 * (e * b - f * a) + c2 * (a * d - b * c);
  const size =
    a2 * (Math.abs(c * f) + Math.abs(d * e)) +
    b2 * (Math.abs(e * b) + Math.abs(f * a)) +
    c2 * (Math.abs(a * d) + Math.abs(b * c));
  if (Math.abs(found) > circleBound * size) return found;
  return exactInCircle(at);
}

function exactInCircle(at: readonly number[]): number {
  const whole = wholeNumbers(at);
  const [dU, dV] = [whole[6]!, whole[7]!];
  const [a, b, c, d, e, f] = whole.slice(0, 6).map((value, k) => value - (k % 2 === 0 ? dU : dV)) as [
    bigint,
    bigint,
    bigint,
    bigint,
    bigint,
    bigint,
  ];
  return signOf(
    (a * a + b * b) * (c * f - d * e) + (c * c + d * d) * (e * b - f * a) + (e * e + f * f) * (a * d - b * c),
  );
}

function signOf(value: bigint): number {
  return value > 0n ? 1 : value < 0n ? -1 : 0;
}

const bits = new DataView(new ArrayBuffer(8));

/** The numbers times one power of two that makes all of them whole: a double is a whole number of 53 bits at most, times 2ᵏ. */
function wholeNumbers(values: readonly number[]): bigint[] {
  if (values.every(Number.isSafeInteger)) return values.map(BigInt);
  const parts = values.map((value) => {
    bits.setFloat64(0, value);
    const raw = bits.getBigUint64(0);
    const power = Number((raw >> 52n) & 0x7ffn);
    const mantissa = raw & 0xfffffffffffffn;
    return {
      size: power === 0 ? mantissa : mantissa | 0x10000000000000n,
      power: Math.max(power, 1),
      isMinus: value < 0,
    };
  });
  const least = Math.min(...parts.filter(({ size }) => size > 0n).map(({ power }) => power));
  return parts.map(({ size, power, isMinus }) => {
    if (size === 0n) return 0n;
    const whole = size << BigInt(power - least);
    return isMinus ? -whole : whole;
  });
}
