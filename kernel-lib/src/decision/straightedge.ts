import { quantileOf } from "../facing/draws.js";
import { drawnDifference, drawnFlatness, type Outcome, type Simulation } from "./simulation.js";

const unknown = "unknown unless the travel is surveyed with a level or a straightedge";

/** What a straightedge would say of the table itself after an option: by the second survey, where there is one. */
export function tableByStraightedge(
  { input, second }: Simulation,
  outcome: Outcome = ({ heightUm }) => heightUm,
  only?: readonly number[],
): string {
  if (!second) return unknown;
  const { surface, draws } = second;
  const drawn = drawnFlatness({ input: { ...input, surface }, draws }, outcome, only);
  return `${middleText(drawn)}: the table itself by ${surface.name}`;
}

/** Flatness of the travel's part of the map, one a draw, µm: second survey less map. Undefined without one. */
export function travelUm(simulation: Simulation): readonly number[] | undefined {
  const { second } = simulation;
  if (!second) return undefined;
  return drawnDifference(simulation, (map, k, _uniform, likely) => {
    const drawn = second.draws[k]!;
    const table = likely ? drawn.likely.heightUm : drawn.heightUm;
    return { travel: map.map((z, i) => table[i]! - z), map };
  }).travelUm;
}

/** "9.1 µm (7.0 µm to 11.2 µm)": median and the middle 95 % */
export function middleText(drawnUm: readonly number[]): string {
  const sorted = drawnUm.toSorted((a, b) => a - b);
  const [low, middle, high] = [0.025, 0.5, 0.975].map((p) => quantileOf(sorted, p).toFixed(1));
  return `${middle} µm (${low} µm to ${high} µm)`;
}
