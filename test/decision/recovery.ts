import { leave, stone } from "../../kernel-lib/src/decision/map-options.js";
import { simulate } from "../../kernel-lib/src/decision/simulation.js";
import { depth } from "../../kernel-lib/src/facing/index.js";
import { minimumZonePlane } from "../../kernel-lib/src/numerics/index.js";
import { type Length, um } from "../../kernel-lib/src/quantity/index.js";
import type { Surface } from "../../kernel-lib/src/survey/index.js";
import { invent, surveyedTable } from "../data/workshop.js";

/** Whether each 95 % interval holds the planted value, for one invented machine. */
export interface Recovered {
  readonly seed: number;
  readonly found: boolean;
  readonly stoned: boolean;
  readonly depth: boolean;
}

/** From the sheet of one invented machine to flatness, flatness when stoned and depth, against what was planted. */
export function recover(seed: number, draws: number): Recovered {
  const { map, trueUm, stonedUm } = surveyedTable(invent(seed));
  const simulation = simulate({ surface: map, tolerance: { upper: um(1e3), source: "test" }, draws, seed });
  const found = leave(simulation).prediction!;
  const stoned = stone(simulation).prediction ?? found;
  const cut = depth(map, { draws, seed }).cleansAll;
  return {
    seed,
    found: holds(found, flatness(map, trueUm)),
    stoned: holds(stoned, flatness(map, stonedUm)),
    depth: holds(cut, Math.max(...trueUm) - Math.min(...trueUm)),
  };
}

function flatness({ places }: Surface, zUm: readonly number[]): number {
  return minimumZonePlane(
    places.map((p) => p.xMm),
    places.map((p) => p.yMm),
    zUm,
  ).zone;
}

function holds({ low, high }: { readonly low: Length; readonly high: Length }, trueUm: number): boolean {
  return low.in("um") <= trueUm && trueUm <= high.in("um");
}
