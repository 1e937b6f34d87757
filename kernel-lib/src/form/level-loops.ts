import { type Length, um } from "../quantity/index.js";
import type { LevelGraph } from "./level-graph.js";

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
 * The loops of a network: one for each pair of neighbours that the tree of first steps does not join, closed through the tree.
 *
 * @param levelled readings with the zero of the level taken out, µm/m
 * @param spread standard deviation of one reading, µm/m
 */
export function loopsOf(graph: LevelGraph, levelled: readonly number[], spread: number): readonly LevelLoop[] {
  const edges = edgesOf(graph, levelled, spread);
  const parent = parentsOf(graph);
  const inTree = (a: number, b: number) => parent[a] === b || parent[b] === a;
  return [...edges.values()]
    .filter(({ from, to }) => !inTree(from, to))
    .map(({ from, to }) => {
      const round = wayBetween(parent, to, from);
      let [closure, variance] = [0, 0];
      [from, ...round].forEach((place, i, all) => {
        if (i + 1 === all.length) return;
        const edge = edges.get(key(place, all[i + 1]!))!;
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

function parentsOf({ steps, reachedBy }: LevelGraph): readonly (number | undefined)[] {
  return reachedBy.map((k, place) => {
    if (k === undefined) return undefined;
    return steps[k]!.from === place ? steps[k]!.to : steps[k]!.from;
  });
}

/** places from one to another through the tree, both included */
function wayBetween(parent: readonly (number | undefined)[], from: number, to: number): number[] {
  const up = (start: number) => {
    const way = [start];
    for (let at = parent[start]; at !== undefined; at = parent[at]) way.push(at);
    return way;
  };
  const [first, second] = [up(from), up(to)];
  const meeting = first.find((place) => second.includes(place))!;
  const down = second.slice(0, second.indexOf(meeting));
  return [...first.slice(0, first.indexOf(meeting) + 1), ...down.reverse()];
}
