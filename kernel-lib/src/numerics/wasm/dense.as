// Dense arithmetic of the spline and the Gaussian process, AssemblyScript. `scripts/wasm.mjs` compiles it into bytes.ts; dense-plain.ts
// holds the same functions in plain TypeScript. Addresses and row lengths (`ld`) are in bytes, counts in numbers; matrices lie row by row.

const BLOCK: i32 = 96; // columns factored at a time
const STRIP: i32 = 32; // panels of four rows that stay in the nearest cache

/** the 4 × 4 piece at c less the product of two packed panels, K long */
function tile(ap: usize, bp: usize, K: i32, c: usize, ldc: usize): void {
  // a0 b0, a1 b1 side by side, and a0 b1, a1 b0: half the shuffles of one number beside itself
  let d00 = f64x2.splat(0), d01 = d00, d10 = d00, d11 = d00, e00 = d00, e01 = d00, e10 = d00, e11 = d00;
  const end = ap + (K << 5);
  for (; ap < end; ap += 32) {
    const a0 = v128.load(ap), a1 = v128.load(ap, 16), b0 = v128.load(bp), b1 = v128.load(bp, 16);
    d00 = f64x2.add(d00, f64x2.mul(a0, b0)); d01 = f64x2.add(d01, f64x2.mul(a0, b1));
    d10 = f64x2.add(d10, f64x2.mul(a1, b0)); d11 = f64x2.add(d11, f64x2.mul(a1, b1));
    const s0 = v128.shuffle<f64>(b0, b0, 1, 0), s1 = v128.shuffle<f64>(b1, b1, 1, 0);
    e00 = f64x2.add(e00, f64x2.mul(a0, s0)); e01 = f64x2.add(e01, f64x2.mul(a0, s1));
    e10 = f64x2.add(e10, f64x2.mul(a1, s0)); e11 = f64x2.add(e11, f64x2.mul(a1, s1));
    bp += 32;
  }
  less(c, v128.shuffle<f64>(d00, e00, 0, 2), v128.shuffle<f64>(d01, e01, 0, 2)); c += ldc;
  less(c, v128.shuffle<f64>(e00, d00, 1, 3), v128.shuffle<f64>(e01, d01, 1, 3)); c += ldc;
  less(c, v128.shuffle<f64>(d10, e10, 0, 2), v128.shuffle<f64>(d11, e11, 0, 2)); c += ldc;
  less(c, v128.shuffle<f64>(e10, d10, 1, 3), v128.shuffle<f64>(e11, d11, 1, 3));
}

// @ts-ignore: decorator
@inline
function less(c: usize, a: v128, b: v128): void {
  v128.store(c, f64x2.sub(v128.load(c), a));
  v128.store(c, f64x2.sub(v128.load(c, 16), b), 16);
}

/** the same where only mr rows and nr columns of the piece are there; `spare` holds 16 numbers */
function edge(ap: usize, bp: usize, K: i32, c: usize, ldc: usize, mr: i32, nr: i32, spare: usize): void {
  memory.fill(spare, 0, 128);
  tile(ap, bp, K, spare, 32);
  for (let i = 0; i < mr; i++) {
    for (let j = 0; j < nr; j++) {
      const at = c + i * ldc + (j << 3);
      store<f64>(at, load<f64>(at) + load<f64>(spare + (i << 5) + (j << 3)));
    }
  }
}

/** rows × K numbers into panels of four rows, times `sign` */
function packRows(src: usize, ld: usize, rows: i32, K: i32, dst: usize, sign: f64): void {
  for (let p = 0; p < rows; p += 4) {
    for (let r = 0; r < 4; r++) {
      const from = src + (p + r) * ld;
      let to = dst + (r << 3);
      if (p + r < rows) for (let k = 0; k < K; k++) { store<f64>(to, sign * load<f64>(from + (k << 3))); to += 32; }
      else for (let k = 0; k < K; k++) { store<f64>(to, 0); to += 32; }
    }
    dst += K << 5;
  }
}

/** K × columns numbers into panels of four columns, times `sign` */
function packColumns(src: usize, ld: usize, K: i32, columns: i32, dst: usize, sign: f64): void {
  for (let p = 0; p < columns; p += 4) {
    const n = min(4, columns - p);
    for (let k = 0; k < K; k++) {
      const from = src + k * ld + (p << 3);
      for (let r = 0; r < n; r++) store<f64>(dst + (r << 3), sign * load<f64>(from + (r << 3)));
      for (let r = n; r < 4; r++) store<f64>(dst + (r << 3), 0);
      dst += 32;
    }
  }
}

/** C −= A B, both packed K long; `lower`: only what touches the lower triangle */
function takeOff(ap: usize, rows: i32, bp: usize, columns: i32, K: i32, c: usize, ldc: usize, lower: bool, spare: usize): void {
  const panel = K << 5;
  const strip = STRIP << 2;
  for (let i0 = 0; i0 < rows; i0 += strip) {
    const end = min(rows, i0 + strip);
    const right = lower ? min(columns, end) : columns;
    for (let j = 0; j < right; j += 4) {
      const b = bp + (j >> 2) * panel;
      for (let i = lower ? max(i0, j) : i0; i < end; i += 4) {
        const a = ap + (i >> 2) * panel;
        const at = c + i * ldc + (j << 3);
        if (i + 4 <= rows && j + 4 <= columns) tile(a, b, K, at, ldc);
        else edge(a, b, K, at, ldc, min(4, rows - i), min(4, columns - j), spare);
      }
    }
  }
}

/** factor of a small block in place; the number of rows done */
function factorBlock(a: usize, n: i32, ld: usize): i32 {
  for (let i = 0; i < n; i++) {
    const row = a + i * ld;
    const whole = abs(load<f64>(row + (i << 3)));
    for (let j = 0; j <= i; j++) {
      const other = a + j * ld;
      let s = load<f64>(row + (j << 3));
      let k = 0;
      let sum = f64x2.splat(0);
      for (; k + 1 < j; k += 2) sum = f64x2.add(sum, f64x2.mul(v128.load(row + (k << 3)), v128.load(other + (k << 3))));
      s -= f64x2.extract_lane(sum, 0) + f64x2.extract_lane(sum, 1);
      if (k < j) s -= load<f64>(row + (k << 3)) * load<f64>(other + (k << 3));
      if (j < i) store<f64>(row + (j << 3), s / load<f64>(other + (j << 3)));
      else if (s > whole * 1e-15) store<f64>(row + (i << 3), sqrt(s));
      else return i;
    }
  }
  return n;
}

/** inverse of the lower triangle of a small block, into dst with rows of n numbers, zeros above */
function invertBlock(l: usize, ld: usize, n: i32, dst: usize): void {
  const ldd = n << 3;
  memory.fill(dst, 0, n * ldd);
  for (let i = 0; i < n; i++) {
    const row = dst + i * ldd;
    const own = l + i * ld;
    const pivot = 1 / load<f64>(own + (i << 3));
    for (let k = 0; k < i; k++) {
      const f = -load<f64>(own + (k << 3)) * pivot;
      const other = dst + k * ldd;
      for (let j = 0; j <= k; j++) store<f64>(row + (j << 3), load<f64>(row + (j << 3)) + f * load<f64>(other + (j << 3)));
    }
    store<f64>(row + (i << 3), pivot);
  }
}

/** Cholesky factor of the lower triangle, in place; the number of rows done, n where the matrix is positive definite */
export function factor(a: usize, n: i32, ld: usize, work: usize): i32 {
  const spare = work, inverse = work + 128, pi = inverse + (BLOCK * BLOCK << 3), pa = pi + (BLOCK * BLOCK << 3);
  for (let j = 0; j < n; j += BLOCK) {
    const nb = min(BLOCK, n - j);
    const diagonal = a + j * ld + (j << 3);
    const done = factorBlock(diagonal, nb, ld);
    if (done < nb) return j + done;
    const rows = n - j - nb;
    if (rows <= 0) break;
    // rows below: times the inverse of the block's factor, transposed
    invertBlock(diagonal, ld, nb, inverse);
    packRows(inverse, nb << 3, nb, nb, pi, -1);
    const below = diagonal + nb * ld;
    packRows(below, ld, rows, nb, pa, 1);
    for (let i = 0; i < rows; i++) memory.fill(below + i * ld, 0, nb << 3);
    takeOff(pa, rows, pi, nb, nb, below, ld, false, spare);
    packRows(below, ld, rows, nb, pa, 1);
    takeOff(pa, rows, pa, rows, nb, below + (nb << 3), ld, true, spare);
  }
  return n;
}

/** B := L⁻¹ B for m columns */
export function solveLower(l: usize, n: i32, ldl: usize, b: usize, m: i32, ldb: usize, work: usize): void {
  const spare = work, inverse = work + 128, pi = inverse + (BLOCK * BLOCK << 3), pl = pi + (BLOCK * BLOCK << 3);
  const pb = pl + ((n + 3 & ~3) * BLOCK << 3);
  for (let j = 0; j < n; j += BLOCK) {
    const nb = min(BLOCK, n - j);
    const diagonal = l + j * ldl + (j << 3);
    const own = b + j * ldb;
    const rows = n - j - nb;
    invertBlock(diagonal, ldl, nb, inverse);
    packRows(inverse, nb << 3, nb, nb, pi, -1);
    if (rows > 0) packRows(diagonal + nb * ldl, ldl, rows, nb, pl, 1);
    for (let c = 0; c < m; c += 256) {
      const mc = min(256, m - c);
      const at = own + (c << 3);
      packColumns(at, ldb, nb, mc, pb, 1);
      for (let i = 0; i < nb; i++) memory.fill(at + i * ldb, 0, mc << 3);
      takeOff(pi, nb, pb, mc, nb, at, ldb, false, spare);
      if (rows <= 0) continue;
      packColumns(at, ldb, nb, mc, pb, 1);
      takeOff(pl, rows, pb, mc, nb, at + nb * ldb, ldb, false, spare);
    }
  }
}

/** lower triangle of C += AᵀA, A of k rows and m columns */
export function addGram(a: usize, k: i32, m: i32, lda: usize, c: usize, ldc: usize, work: usize): void {
  const spare = work, pa = work + 128, pb = pa + ((m + 3 & ~3) * BLOCK << 3);
  for (let j = 0; j < k; j += BLOCK) {
    const nb = min(BLOCK, k - j);
    packColumns(a + j * lda, lda, nb, m, pa, 1);
    packColumns(a + j * lda, lda, nb, m, pb, -1);
    takeOff(pa, m, pb, m, nb, c, ldc, true, spare);
  }
}

// @ts-ignore: decorator
@inline
function exp2(x: v128): v128 {
  x = f64x2.max(x, f64x2.splat(-708));
  const shifted = f64x2.add(f64x2.mul(x, f64x2.splat(1.4426950408889634)), f64x2.splat(6755399441055744));
  const n = f64x2.sub(shifted, f64x2.splat(6755399441055744));
  const r = f64x2.sub(f64x2.sub(x, f64x2.mul(n, f64x2.splat(0.6931471803691238))), f64x2.mul(n, f64x2.splat(1.9082149292705877e-10)));
  let p = f64x2.splat(1.6059043836821613e-10);
  p = f64x2.add(f64x2.mul(p, r), f64x2.splat(2.08767569878681e-9));
  p = f64x2.add(f64x2.mul(p, r), f64x2.splat(2.505210838544172e-8));
  p = f64x2.add(f64x2.mul(p, r), f64x2.splat(2.755731922398589e-7));
  p = f64x2.add(f64x2.mul(p, r), f64x2.splat(2.7557319223985893e-6));
  p = f64x2.add(f64x2.mul(p, r), f64x2.splat(2.48015873015873e-5));
  p = f64x2.add(f64x2.mul(p, r), f64x2.splat(1.984126984126984e-4));
  p = f64x2.add(f64x2.mul(p, r), f64x2.splat(1.388888888888889e-3));
  p = f64x2.add(f64x2.mul(p, r), f64x2.splat(8.333333333333333e-3));
  p = f64x2.add(f64x2.mul(p, r), f64x2.splat(4.1666666666666664e-2));
  p = f64x2.add(f64x2.mul(p, r), f64x2.splat(0.16666666666666666));
  p = f64x2.add(f64x2.mul(p, r), f64x2.splat(0.5));
  p = f64x2.add(f64x2.mul(p, r), f64x2.splat(1));
  p = f64x2.add(f64x2.mul(p, r), f64x2.splat(1));
  // the whole number stands in the low bits of `shifted`
  return f64x2.mul(p, i64x2.shl(i64x2.add(shifted, i64x2.splat(1023)), 52));
}

/** e to the power of each number, in place; below e⁻⁷⁰⁸ as at −708 */
export function exponentials(a: usize, count: i32): void {
  let i = 0;
  for (; i + 1 < count; i += 2) { v128.store(a, exp2(v128.load(a))); a += 16; }
  if (i < count) store<f64>(a, f64x2.extract_lane(exp2(f64x2.splat(load<f64>(a))), 0));
}

// @ts-ignore: decorator
@inline
function logOf(x: v128): v128 {
  const ix = i64x2.add(x, i64x2.splat(0x3ff0000000000000 - 0x3fe6a09e667f3bcd));
  const k = f64x2.sub(v128.or(i64x2.shr_u(ix, 52), i64x2.splat(0x4330000000000000)), f64x2.splat(4503599627371519));
  const m = i64x2.add(v128.and(ix, i64x2.splat(0x000fffffffffffff)), i64x2.splat(0x3fe6a09e667f3bcd));
  const one = f64x2.splat(1);
  const s = f64x2.div(f64x2.sub(m, one), f64x2.add(m, one));
  const z = f64x2.mul(s, s);
  let p = f64x2.splat(0.09523809523809523);
  p = f64x2.add(f64x2.mul(p, z), f64x2.splat(0.10526315789473684));
  p = f64x2.add(f64x2.mul(p, z), f64x2.splat(0.11764705882352941));
  p = f64x2.add(f64x2.mul(p, z), f64x2.splat(0.13333333333333333));
  p = f64x2.add(f64x2.mul(p, z), f64x2.splat(0.15384615384615385));
  p = f64x2.add(f64x2.mul(p, z), f64x2.splat(0.18181818181818182));
  p = f64x2.add(f64x2.mul(p, z), f64x2.splat(0.2222222222222222));
  p = f64x2.add(f64x2.mul(p, z), f64x2.splat(0.2857142857142857));
  p = f64x2.add(f64x2.mul(p, z), f64x2.splat(0.4));
  p = f64x2.add(f64x2.mul(p, z), f64x2.splat(0.6666666666666666));
  p = f64x2.add(f64x2.mul(p, z), f64x2.splat(2));
  return f64x2.add(f64x2.mul(p, s), f64x2.mul(k, f64x2.splat(0.6931471805599453)));
}

// @ts-ignore: decorator
@inline
function timesLog(x: v128): v128 {
  return f64x2.mul(x, logOf(x));
}

/** out_j += Σ w_i r² ln r over the sources i, r the distance to target j; targets in fours (the arrays are padded) */
export function addRadial(sx: usize, sy: usize, w: usize, n: i32, tx: usize, ty: usize, out: usize, m: i32): void {
  for (let j = 0; j < m; j += 4) {
    const x0 = v128.load(tx), x1 = v128.load(tx, 16), y0 = v128.load(ty), y1 = v128.load(ty, 16);
    let s0 = f64x2.splat(0), s1 = s0;
    for (let i = 0; i < n; i++) {
      const x = v128.load64_splat(sx + (i << 3)), y = v128.load64_splat(sy + (i << 3)), f = v128.load64_splat(w + (i << 3));
      let dx = f64x2.sub(x0, x), dy = f64x2.sub(y0, y);
      s0 = f64x2.add(s0, f64x2.mul(f, timesLog(f64x2.add(f64x2.mul(dx, dx), f64x2.mul(dy, dy)))));
      dx = f64x2.sub(x1, x); dy = f64x2.sub(y1, y);
      s1 = f64x2.add(s1, f64x2.mul(f, timesLog(f64x2.add(f64x2.mul(dx, dx), f64x2.mul(dy, dy)))));
    }
    const half = f64x2.splat(0.5);
    v128.store(out, f64x2.add(v128.load(out), f64x2.mul(half, s0)));
    v128.store(out, f64x2.add(v128.load(out, 16), f64x2.mul(half, s1)), 16);
    tx += 32; ty += 32; out += 32;
  }
}

const TERMS: i32 = 40; // of the two series; radial-tree.ts says why as many

// @ts-ignore: decorator
@inline
function pairAt(a: usize, i: i32, n: i32): v128 {
  return f64x2.replace_lane(v128.load64_splat(a + (i << 3)), 1, load<f64>(a + (min(i + 1, n - 1) << 3)));
}

/** two series about (cx, cy) += what n sources far from there make of Σ w r² ln r; `spare` holds 8 numbers a term */
export function addFar(sx: usize, sy: usize, w: usize, n: i32, cx: f64, cy: f64, radius: f64, series: usize, spare: usize): void {
  memory.fill(spare, 0, TERMS << 6);
  const scale = f64x2.splat(1 / radius), own = f64x2.splat(radius * radius);
  for (let i = 0; i < n; i += 2) {
    let f = f64x2.mul(own, pairAt(w, i, n));
    if (i + 1 === n) f = f64x2.replace_lane(f, 1, 0);
    const x = f64x2.mul(scale, f64x2.sub(pairAt(sx, i, n), f64x2.splat(cx)));
    const y = f64x2.mul(scale, f64x2.sub(pairAt(sy, i, n), f64x2.splat(cy)));
    const square = f64x2.add(f64x2.mul(x, x), f64x2.mul(y, y));
    // ln r, r in the units of the places
    const log = f64x2.mul(f64x2.splat(0.5), logOf(f64x2.mul(square, own)));
    const more = f64x2.mul(f, f64x2.add(log, f64x2.splat(1)));
    const less = f64x2.mul(f, log);
    add(spare, f64x2.mul(square, less));
    add(spare + 32, f64x2.neg(f64x2.mul(x, less))); add(spare + 48, f64x2.neg(f64x2.mul(y, less)));
    add(spare + 64, f64x2.neg(f64x2.mul(x, more))); add(spare + 80, f64x2.mul(y, more));
    add(spare + 96, more);
    // p = w v¹⁻ᵏ, v the source's place as a complex number
    const inverse = f64x2.div(f64x2.splat(1), square);
    const qx = f64x2.mul(x, inverse), qy = f64x2.neg(f64x2.mul(y, inverse));
    let px = f64x2.mul(f, qx), py = f64x2.mul(f, qy);
    for (let to = spare + 128, end = spare + (TERMS << 6); to < end; to += 64) {
      add(to + 32, px); add(to + 48, py);
      const next = f64x2.sub(f64x2.mul(px, qx), f64x2.mul(py, qy));
      py = f64x2.add(f64x2.mul(px, qy), f64x2.mul(py, qx));
      px = next;
      add(to, f64x2.mul(square, px)); add(to + 16, f64x2.mul(square, py));
    }
  }
  for (let k = 0; k < TERMS; k++) {
    const f = k < 2 ? 1 : 1 / f64(k * (k - 1));
    gather(series, spare, f); gather(series + 8, spare + 32, k < 2 ? f : -f);
    gather(series + 16, spare + 16, f); gather(series + 24, spare + 48, k < 2 ? f : -f);
    series += 32; spare += 64;
  }
}

// @ts-ignore: decorator
@inline
function add(at: usize, value: v128): void {
  v128.store(at, f64x2.add(v128.load(at), value));
}

// @ts-ignore: decorator
@inline
function times(at: usize, x: v128, y: v128, re: v128, im: v128): void {
  v128.store(at, f64x2.add(v128.load(at), f64x2.sub(f64x2.mul(x, re), f64x2.mul(y, im))));
  v128.store(at, f64x2.add(v128.load(at, 16), f64x2.add(f64x2.mul(x, im), f64x2.mul(y, re))), 16);
}

// @ts-ignore: decorator
@inline
function gather(to: usize, from: usize, f: f64): void {
  store<f64>(to, load<f64>(to) + f * (load<f64>(from) + load<f64>(from + 8)));
}

/** the same two series about another centre, (tx, ty) away, in units of `scale`: everything in those of the old radius */
export function shiftSeries(from: usize, to: usize, tx: f64, ty: f64, scale: f64): void {
  memory.copy(to, from, TERMS << 5);
  const x = f64x2.splat(tx), y = f64x2.splat(ty);
  const last = to + (TERMS << 5) - 32;
  // two sweeps side by side, the second one term behind: neither waits for the other
  for (let low = to; low < last; low += 64) {
    let re = v128.load(last), im = v128.load(last, 16), re2 = re, im2 = im;
    let at = last - 32;
    times(at, x, y, re, im);
    re = v128.load(at); im = v128.load(at, 16);
    for (at -= 32; at >= low; at -= 32) {
      const next = f64x2.add(v128.load(at), f64x2.sub(f64x2.mul(x, re), f64x2.mul(y, im)));
      const nextIm = f64x2.add(v128.load(at, 16), f64x2.add(f64x2.mul(x, im), f64x2.mul(y, re)));
      const next2 = f64x2.add(re, f64x2.sub(f64x2.mul(x, re2), f64x2.mul(y, im2)));
      im2 = f64x2.add(im, f64x2.add(f64x2.mul(x, im2), f64x2.mul(y, re2)));
      re2 = next2; re = next; im = nextIm;
      v128.store(at, re2, 32); v128.store(at, im2, 48);
    }
    v128.store(low, re); v128.store(low, im, 16);
  }
  let power: f64 = 1;
  for (let at = to; at <= last; at += 32) {
    const bx = load<f64>(at, 8), by = load<f64>(at, 24);
    store<f64>(at, power * (load<f64>(at) + tx * bx + ty * by));
    store<f64>(at, power * (load<f64>(at, 16) + tx * by - ty * bx), 16);
    power *= scale;
    store<f64>(at, power * bx, 8);
    store<f64>(at, power * by, 24);
  }
}

/** out_j = real part of A(u) + ū B(u), u the place of target j from the centre; targets in fours (the arrays are padded) */
export function sumSeries(series: usize, cx: f64, cy: f64, radius: f64, tx: usize, ty: usize, out: usize, m: i32): void {
  const scale = f64x2.splat(1 / radius), x0 = f64x2.splat(cx), y0 = f64x2.splat(cy);
  const last = series + (TERMS << 5) - 32;
  for (let j = 0; j < m; j += 2) {
    const x = f64x2.mul(scale, f64x2.sub(v128.load(tx), x0)), y = f64x2.mul(scale, f64x2.sub(v128.load(ty), y0));
    let a = v128.load64_splat(last), b = v128.load64_splat(last, 8), ai = v128.load64_splat(last, 16), bi = v128.load64_splat(last, 24);
    for (let at = last - 32; at >= series; at -= 32) {
      const na = f64x2.add(v128.load64_splat(at), f64x2.sub(f64x2.mul(x, a), f64x2.mul(y, ai)));
      const nb = f64x2.add(v128.load64_splat(at, 8), f64x2.sub(f64x2.mul(x, b), f64x2.mul(y, bi)));
      ai = f64x2.add(v128.load64_splat(at, 16), f64x2.add(f64x2.mul(x, ai), f64x2.mul(y, a)));
      bi = f64x2.add(v128.load64_splat(at, 24), f64x2.add(f64x2.mul(x, bi), f64x2.mul(y, b)));
      a = na; b = nb;
    }
    v128.store(out, f64x2.add(a, f64x2.add(f64x2.mul(x, b), f64x2.mul(y, bi))));
    tx += 16; ty += 16; out += 16;
  }
}
