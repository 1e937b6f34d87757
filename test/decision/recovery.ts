import { leave, stone } from "../../kernel-lib/src/decision/map-options.js";
import { type Simulation, simulate } from "../../kernel-lib/src/decision/simulation.js";
import { depth } from "../../kernel-lib/src/facing/index.js";
import { minimumZonePlane } from "../../kernel-lib/src/numerics/index.js";
import { type Length, um } from "../../kernel-lib/src/quantity/index.js";
import type { Surface } from "../../kernel-lib/src/survey/index.js";
import { invent, surveyedTable } from "../data/workshop.js";
import { machine } from "./machines.js";

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
  const simulation = simulated(map, seed, draws);
  const stoned = stone(simulation).prediction ?? leave(simulation).prediction!;
  return { ...foundAndDepth(map, trueUm, seed, draws), stoned: holds(stoned, flatness(map, stonedUm)) };
}

/** The same of a machine whose form, gauge, scatter and drift follow laws that the tool does not assume. */
export function recoverForeign(seed: number, draws: number): Omit<Recovered, "stoned"> {
  const { map, trueUm } = machine(seed);
  return foundAndDepth(map, trueUm, seed, draws);
}

function foundAndDepth(map: Surface, trueUm: readonly number[], seed: number, draws: number) {
  const found = leave(simulated(map, seed, draws)).prediction!;
  const cut = depth(map, { draws, seed }).cleansAll;
  return {
    seed,
    found: holds(found, flatness(map, trueUm)),
    depth: holds(cut, Math.max(...trueUm) - Math.min(...trueUm)),
  };
}

function simulated(surface: Surface, seed: number, draws: number): Simulation {
  return simulate({ surface, tolerance: { upper: um(1e3), source: "test" }, draws, seed });
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
