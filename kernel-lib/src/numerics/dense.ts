import { plainDense } from "./dense-plain.js";
import { bytes } from "./wasm/bytes.js";

/**
 * Dense arithmetic on numbers that lie in one memory, row by row: `a`, `b`, `l` are places in it, `ld` is the distance from
 * one row to the next, all counted in numbers.
 */
export interface Dense {
  /** Cholesky factor of the lower triangle, in place; the number of rows done, `n` where the matrix is positive definite */
  factor(a: number, n: number, ld: number): number;
  /** B := L⁻¹ B for `m` columns */
  solveLower(l: number, n: number, ldl: number, b: number, m: number, ldb: number): void;
  /** lower triangle of C += AᵀA, A of `k` rows and `m` columns; what lies above C's diagonal is not kept */
  addGram(a: number, k: number, m: number, lda: number, c: number, ldc: number): void;
  /** e to the power of each number, in place */
  exponentials(a: number, count: number): void;
  /** out_j += Σ w_i r² ln r over `n` sources; `m` targets, a multiple of four */
  addRadial(sx: number, sy: number, w: number, n: number, tx: number, ty: number, out: number, m: number): void;
  /** adds what `n` sources outside the circle make of Σ w r² ln r within it to two series about its middle; `spare`: eight numbers a term */
  addFar(sx: number, sy: number, w: number, n: number, circle: Circle, series: number, spare: number): void;
  /** the two series about another middle, (x, y) away and with another radius, all in units of the old radius */
  shiftSeries(from: number, to: number, x: number, y: number, radius: number): void;
  /** out_j = what the two series say at each target; `m` a multiple of four */
  sumSeries(series: number, circle: Circle, tx: number, ty: number, out: number, m: number): void;
}

export interface Circle {
  readonly x: number;
  readonly y: number;
  readonly radius: number;
}

/** Uses lent memory; nothing of it may be kept beyond the call. */
export type DenseUse<T> = (memory: Float64Array, dense: Dense) => T;

interface WasmExports {
  factor(a: number, n: number, ld: number, work: number): number;
  solveLower(l: number, n: number, ldl: number, b: number, m: number, ldb: number, work: number): void;
  addGram(a: number, k: number, m: number, lda: number, c: number, ldc: number, work: number): void;
  exponentials(a: number, count: number): void;
  addRadial(sx: number, sy: number, w: number, n: number, tx: number, ty: number, out: number, m: number): void;
  addFar(
    sx: number,
    sy: number,
    w: number,
    n: number,
    x: number,
    y: number,
    radius: number,
    series: number,
    spare: number,
  ): void;
  shiftSeries(from: number, to: number, x: number, y: number, radius: number): void;
  sumSeries(series: number, x: number, y: number, radius: number, tx: number, ty: number, out: number, m: number): void;
}

interface WasmMemory {
  readonly buffer: ArrayBuffer;
  grow(pages: number): number;
}

/** what is used of the engine's own; the compiler's lists of names leave it out */
interface WasmEngine {
  readonly Memory: new (size: { initial: number }) => WasmMemory;
  readonly Module: new (code: Uint8Array) => object;
  readonly Instance: new (module: object, imports: object) => { readonly exports: object };
}

interface Machine {
  readonly memory: WasmMemory;
  readonly run: WasmExports;
  isLent: boolean;
}

const page = 65_536;
/** numbers at the start that are left to the module */
const reserve = 128;
let machine: Machine | undefined | "missing";

/**
 * Lends memory of `length` numbers (they hold what the last user left) for matrices of up to `n` rows or columns, with the
 * arithmetic on it: compiled where the engine can, plain where it cannot or where the memory is lent already.
 */
export function withDense<T>(length: number, n: number, use: DenseUse<T>): T {
  machine ??= start();
  if (machine === "missing" || machine.isLent) return withPlainDense(length, use);
  const { memory, run } = machine;
  const work = reserve + length;
  const whole = work + workLength(n);
  const missing = Math.ceil((whole * 8 - memory.buffer.byteLength) / page);
  if (missing > 0) memory.grow(missing);
  machine.isLent = true;
  try {
    return use(new Float64Array(memory.buffer, reserve * 8, length), compiled(run, work * 8));
  } finally {
    machine.isLent = false;
  }
}

/** The same in plain numbers: where there is no compiled module, and to hold that one against. */
export function withPlainDense<T>(length: number, use: DenseUse<T>): T {
  const memory = new Float64Array(length);
  return use(memory, plainDense(memory));
}

/** what dense.as takes beside the matrices: two blocks and two packed columns of blocks */
function workLength(n: number): number {
  return 16 + 2 * 96 * 96 + (2 * (n + 4) + 256) * 96;
}

function start(): Machine | "missing" {
  const { WebAssembly: engine } = globalThis as { WebAssembly?: WasmEngine };
  if (engine === undefined) return "missing";
  try {
    const memory = new engine.Memory({ initial: 1 });
    const code = Uint8Array.from(atob(bytes), (letter) => letter.charCodeAt(0));
    const { exports: run } = new engine.Instance(new engine.Module(code), { env: { memory } });
    return { memory, run: run as WasmExports, isLent: false };
  } catch {
    // an engine without the vector instructions
    return "missing";
  }
}

function compiled(run: WasmExports, work: number): Dense {
  const at = (place: number) => (reserve + place) * 8;
  return {
    factor: (a, n, ld) => run.factor(at(a), n, ld * 8, work),
    solveLower: (l, n, ldl, b, m, ldb) => run.solveLower(at(l), n, ldl * 8, at(b), m, ldb * 8, work),
    addGram: (a, k, m, lda, c, ldc) => run.addGram(at(a), k, m, lda * 8, at(c), ldc * 8, work),
    exponentials: (a, count) => run.exponentials(at(a), count),
    addRadial: (sx, sy, w, n, tx, ty, out, m) => run.addRadial(at(sx), at(sy), at(w), n, at(tx), at(ty), at(out), m),
    addFar: (sx, sy, w, n, { x, y, radius }, series, spare) =>
      run.addFar(at(sx), at(sy), at(w), n, x, y, radius, at(series), at(spare)),
    shiftSeries: (from, to, x, y, radius) => run.shiftSeries(at(from), at(to), x, y, radius),
    sumSeries: (series, { x, y, radius }, tx, ty, out, m) =>
      run.sumSeries(at(series), x, y, radius, at(tx), at(ty), at(out), m),
  };
}
