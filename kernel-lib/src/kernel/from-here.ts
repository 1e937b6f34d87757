import { relative, resolve } from "node:path";

/** A path as it reads best where the person stands: the way there from this folder, or the whole path where that is shorter. */
export function fromHere(path: string, here = process.cwd()): string {
  const whole = resolve(here, path);
  const way = relative(here, whole) || ".";
  return way.length <= whole.length ? way : whole;
}
