import { quantileOf } from "../facing/draws.js";
import { asFound, drawnFlatness, type Outcome, travelFlatness } from "./drawn.js";
import type { Simulation } from "./simulation.js";

const unknown = "unknown unless the travel is surveyed with a level or a straightedge";

/** What an option does, as a second survey would find it. */
export interface SeenBySecond {
  /** to the table; nothing where left out */
  readonly table?: Outcome;
  /** to the travel; nothing where left out */
  readonly travel?: Outcome;
  /** indices of the places that it is held to; all where left out */
  readonly only?: readonly number[];
}

/** What a straightedge would say after an option, of the table itself and of a face cut on it: by the second survey, where
 * there is one. */
export function byStraightedge(simulation: Simulation, seen: SeenBySecond = {}): string {
  return simulation.second ? `${tableText(simulation, seen)}; ${faceText(simulation, seen)}` : unknown;
}

/** A straightedge on the table itself. */
export function tableText(simulation: Simulation, seen: SeenBySecond = {}): string {
  const { input, second } = simulation;
  if (!second) return unknown;
  const { surface, draws } = second;
  const table = drawnFlatness({ input: { ...input, surface }, draws }, seen.table ?? asFound, seen.only);
  return `the table itself ${middleText(table)} by ${surface.name}`;
}

/** A straightedge on a face that is cut after an option: the form of the travel. */
export function faceText(simulation: Simulation, seen: SeenBySecond = {}): string {
  const face = travelUm(simulation, seen);
  return face
    ? `a face cut on it ${middleText(face)}, the travel's part of this map by ${simulation.second!.surface.name}`
    : `a face cut on it: ${unknown}`;
}

/** Flatness of the travel after an option, one a draw, µm. Undefined without a second survey. */
export function travelUm(simulation: Simulation, { travel, only }: SeenBySecond = {}): readonly number[] | undefined {
  const { second } = simulation;
  if (!travel && !only) return second?.travelUm;
  return second && travelFlatness(simulation, second.draws, travel, only);
}

/** "9.1 µm (7.0 µm to 11.2 µm)": median and the middle 95 % */
export function middleText(drawnUm: readonly number[]): string {
  const sorted = drawnUm.toSorted((a, b) => a - b);
  const [low, middle, high] = [0.025, 0.5, 0.975].map((p) => quantileOf(sorted, p).toFixed(1));
  return `${middle} µm (${low} µm to ${high} µm)`;
}
