import { spanOf } from "./raster.js";

export type Screen = readonly [x: number, y: number];
type Span = readonly [from: number, to: number];

/** What stands in the axes' box: millimetres across and away, micrometres up, drawn larger by a stated factor. */
export interface Space {
  readonly u: { readonly range: Span };
  readonly v: { readonly range: Span };
  readonly z: { readonly range: Span };
  readonly exaggeration: number;
}

/** Parallel projection from the raised eye to the right of FRONT. */
export interface Projection {
  readonly to: (u: number, v: number, zUm: number) => Screen;
  /** greater = farther from the eye */
  readonly depth: (u: number, v: number) => number;
}

// the eye is turned to the right of FRONT and raised above the table
const [turn, rise] = [(26 * Math.PI) / 180, (26 * Math.PI) / 180];

/** Directions of the picture in the axes' box: across, away, up. */
export const lookVectors = {
  right: [Math.cos(turn), Math.sin(turn), 0],
  up: [-Math.sin(turn) * Math.sin(rise), Math.cos(turn) * Math.sin(rise), Math.cos(rise)],
  toEye: [Math.sin(turn) * Math.cos(rise), -Math.cos(turn) * Math.cos(rise), Math.sin(rise)],
};

/** The axes' box seen by the eye, in millimetres of the table. */
export function seenBox({ u, v, z, exaggeration }: Space): { readonly x: Span; readonly y: Span } {
  const corners = u.range.flatMap((a) => v.range.flatMap((b) => z.range.map((c) => flat(a, b, c, exaggeration))));
  return { x: spanOf(corners.map(([x]) => x)), y: spanOf(corners.map(([, y]) => y)) };
}

/** A projection that draws the axes' box so wide; it keeps the stated exaggeration. */
export function projectionInto(space: Space, left: number, top: number, width: number): Projection {
  const { x, y } = seenBox(space);
  const scale = width / (x[1] - x[0]);
  return {
    to: (u, v, zUm) => {
      const [a, b] = flat(u, v, zUm, space.exaggeration);
      return [left + scale * (a - x[0]), top + scale * (b - y[0])];
    },
    depth,
  };
}

function depth(u: number, v: number): number {
  return v * Math.cos(turn) - u * Math.sin(turn);
}

function flat(u: number, v: number, zUm: number, exaggeration: number): Screen {
  const up = (zUm / 1000) * exaggeration;
  return [u * Math.cos(turn) + v * Math.sin(turn), -depth(u, v) * Math.sin(rise) - up * Math.cos(rise)];
}
