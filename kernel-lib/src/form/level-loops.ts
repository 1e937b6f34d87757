import { type Length, um } from "../quantity/index.js";
import type { LevelGraph } from "./level-graph.js";
import { shortestLoops } from "./shortest-loops.js";

/** A way round from a place back to itself, and by how much its rises miss zero. */
export interface LevelLoop {
  /** labels in turn; the last joins the first */
  readonly places: readonly string[];
  /** sum of the rises, the zero of the level taken out, steps read several times by their mean */
  readonly closure: Length;
  /** what the scatter of single readings makes of such a sum */
  readonly standardUncertainty: Length;
}

/**
 * The loops of a network: the shortest ones of which every other is made up, as many as there are steps more than a tree needs.
 *
 * @param levelled readings with the zero of the level taken out, µm/m
 * @param spread standard deviation of one reading, µm/m
 */
export function loopsOf(graph: LevelGraph, levelled: readonly number[], spread: number): readonly LevelLoop[] {
  const edges = edgesOf(graph, levelled, spread);
  return shortestLoops(graph.places.length, [...edges.values()]).map((round) => {
    let [closure, variance] = [0, 0];
    round.forEach((place, i) => {
      const edge = edges.get(key(place, round[(i + 1) % round.length]!))!;
      closure += edge.from === place ? edge.riseUm : -edge.riseUm;
      variance += edge.variance;
    });
    return {
      places: round.map((i) => graph.places[i]!.label),
      closure: um(closure),
      standardUncertainty: um(Math.sqrt(variance)),
    };
  });
}

interface Edge {
  readonly from: number;
  readonly to: number;
  readonly riseUm: number;
  readonly variance: number;
}

function key(a: number, b: number): string {
  return a < b ? `${a} ${b}` : `${b} ${a}`;
}

function edgesOf({ steps }: LevelGraph, levelled: readonly number[], spread: number): ReadonlyMap<string, Edge> {
  const groups = new Map<string, number[]>();
  steps.forEach(({ from, to }, k) => {
    groups.set(key(from, to), [...(groups.get(key(from, to)) ?? []), k]);
  });
  return new Map(
    [...groups].map(([name, members]) => {
      const { from, to } = steps[members[0]!]!;
      const rises = members.map((k) => levelled[k]! * steps[k]!.footM * (steps[k]!.from === from ? 1 : -1));
      const variance = members.reduce((s, k) => s + (spread * steps[k]!.footM) ** 2, 0) / members.length ** 2;
      return [name, { from, to, riseUm: rises.reduce((s, v) => s + v, 0) / members.length, variance }];
    }),
  );
}
