import { type RandomStream, randomStream } from "../../kernel-lib/src/numerics/index.js";
import type { Form } from "../form/planted.js";

type Sort = (stream: RandomStream) => Form;

const u = (x: number) => (x - 225) / 225;
const v = (y: number) => (y - 160) / 160;

/** smooth throughout: bows, twist and a wave of 300 to 600 mm */
const bowsAndWave: Sort = (stream) => {
  const [a, b, c, d] = [12, 8, 6, 5].map((size) => size * stream.normal()) as [number, number, number, number];
  const [length, turn, phase] = [300 + 300 * stream.uniform(), 3 * stream.uniform(), 6 * stream.uniform()];
  return (x, y) => {
    const way = x * Math.cos(turn) + y * Math.sin(turn);
    return a * u(x) ** 2 + b * v(y) ** 2 + c * u(x) * v(y) + d * Math.sin((2 * Math.PI * way) / length + phase);
  };
};

/** level but for one hollow or hump, 80 to 180 mm from its middle to where it is steepest, on a bow */
const hollow: Sort = (stream) => {
  const [depth, bow, twist] = [12, 8, 5].map((size) => size * stream.normal()) as [number, number, number];
  const [x0, y0, r] = [450 * stream.uniform(), 320 * stream.uniform(), 80 + 100 * stream.uniform()];
  return (x, y) =>
    bow * u(x) ** 2 + twist * u(x) * v(y) - depth * Math.exp(-((x - x0) ** 2 + (y - y0) ** 2) / (2 * r * r));
};

/** worn along and across over part of the table, with ends at which the wear sets in */
const wornParts: Sort = (stream) => {
  const [deep, shallow, twist] = [12, 8, 6].map((size) => size * stream.normal()) as [number, number, number];
  const [x0, y0] = [100 + 250 * stream.uniform(), 60 + 200 * stream.uniform()];
  const [halfX, halfY] = [150 + 150 * stream.uniform(), 100 + 100 * stream.uniform()];
  const wear = (way: number) => Math.max(0, 1 - way * way) ** 2;
  return (x, y) => deep * wear((x - x0) / halfX) + shallow * wear((y - y0) / halfY) + twist * u(x) * v(y);
};

/** unruly: many waves all ways, alike over 150 to 400 mm (the spectrum of Matérn 5/2, which is Student's t of 5 degrees) */
const unruly: Sort = (stream) => {
  const waves = Array.from({ length: 200 }, () => {
    const [p, q, size] = [stream.normal(), stream.normal(), stream.normal()];
    let squares = 0;
    for (let i = 0; i < 5; i++) squares += stream.normal() ** 2;
    const wide = 1 / Math.sqrt(squares / 5);
    return { p: p * wide, q: q * wide, size, phase: 2 * Math.PI * stream.uniform() };
  });
  const length = 150 + 250 * stream.uniform();
  return (x, y) => waves.reduce((s, { p, q, size, phase }) => s + size * Math.cos((p * x + q * y) / length + phase), 0);
};

const sorts: Readonly<Record<string, Sort>> = {
  "bows and a wave": bowsAndWave,
  "a hollow": hollow,
  "worn parts": wornParts,
  unruly,
};

export const sortNames: readonly string[] = Object.keys(sorts);

/** A form that varies slowly over a pitch of 50 × 40 mm, in µm: of its own for each seed. */
export function slowForm(sort: string, seed: number): Form {
  return sorts[sort]!(randomStream(seed));
}
