import { MeasurementError } from "../measurement-error.js";
import { display, type MimeBundle } from "../quantity/index.js";
import type { Domain } from "./surface-domain.js";
import type { Heights } from "./surface-method.js";

/** A height on the raster, µm. */
export interface RasterHeight {
  readonly xMm: number;
  readonly yMm: number;
  readonly heightUm: number;
  readonly uUm: number;
}

/** Heights over an even raster of square cells; nothing outside the places, in slots and holes. */
export class SurfaceRaster {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  private constructor(
    readonly xsMm: readonly number[],
    readonly ysMm: readonly number[],
    private readonly cells: readonly (RasterHeight | undefined)[],
  ) {
    Object.freeze(this);
  }

  /** @internal @throws MeasurementError `no-surface` */
  static over(
    { hull, outside }: Domain,
    count: number,
    heights: (x: readonly number[], y: readonly number[]) => Heights,
    toEdges = false,
  ): SurfaceRaster {
    const [xsMm, ysMm] = linesOver(hull, count, toEdges);
    const spots = ysMm.flatMap((y) => xsMm.map((x) => ({ x, y })));
    const asked = spots.filter(({ x, y }) => outside(x, y) === undefined);
    if (asked.length === 0) {
      throw new MeasurementError(
        "no-surface",
        "surface: slots and holes leave nothing of the surface between the places; look for a wrong size or position of one",
      );
    }
    const { meanUm, uUm } = heights(
      asked.map(({ x }) => x),
      asked.map(({ y }) => y),
    );
    let next = 0;
    const cells = spots.map(({ x, y }) => {
      if (outside(x, y) !== undefined) return undefined;
      const k = next++;
      if (!Number.isFinite(meanUm[k]! + uUm[k]!)) return undefined;
      return { xMm: x, yMm: y, heightUm: meanUm[k]!, uUm: uUm[k]! };
    });
    return new SurfaceRaster(xsMm, ysMm, cells);
  }

  /** The height where column `i` and row `j` cross. */
  at(i: number, j: number): RasterHeight | undefined {
    return this.cells[j * this.xsMm.length + i];
  }

  /** What is there, row by row. */
  toArray(): readonly RasterHeight[] {
    return this.cells.filter((cell) => cell !== undefined);
  }

  [Symbol.iterator](): Iterator<RasterHeight> {
    return this.toArray()[Symbol.iterator]();
  }

  /** area that one crossing stands for, mm² */
  get cellMm2(): number {
    return (this.xsMm[1]! - this.xsMm[0]!) * (this.ysMm[1]! - this.ysMm[0]!);
  }

  /** least and greatest standard uncertainty, µm */
  get uRange(): readonly [number, number] {
    const all = this.toArray().map(({ uUm }) => uUm);
    return [Math.min(...all), Math.max(...all)];
  }
}

/** lines through the middles of square cells that fill the box of the hull; or along their rims, edges included */
function linesOver(hull: Domain["hull"], count: number, toEdges: boolean): [readonly number[], readonly number[]] {
  const xs = hull.map(([x]) => x);
  const ys = hull.map(([, y]) => y);
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const cell = Math.max(x1 - x0, y1 - y0) / count;
  const lines = (from: number, to: number) => {
    const n = Math.max(2, Math.round((to - from) / cell));
    if (toEdges) return Array.from({ length: n + 1 }, (_, i) => from + (i * (to - from)) / n);
    return Array.from({ length: n }, (_, i) => from + ((i + 0.5) * (to - from)) / n);
  };
  return [lines(x0, x1), lines(y0, y1)];
}
