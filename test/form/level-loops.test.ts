import { describe, expect, it } from "vitest";
import { levelNetwork, levelRuns } from "../../kernel-lib/src/form/index.js";
import { shortestLoops } from "../../kernel-lib/src/form/shortest-loops.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { arcsec, mm, umPerM } from "../../kernel-lib/src/quantity/index.js";
import { decimalsOf, fixture } from "../reference/digits.js";
import { frame, instrument, networkOf, readingsOn } from "./union-jack.js";

const grid = (columns: number, rows: number) =>
  Array.from({ length: columns * rows }, (_, k) => k).flatMap((k) => [
    ...(k % columns < columns - 1 ? [{ from: k, to: k + 1 }] : []),
    ...(k + columns < columns * rows ? [{ from: k, to: k + columns }] : []),
  ]);

describe("the loops of a network", () => {
  it("are the meshes of a grid, each once", () => {
    const loops = shortestLoops(12, grid(4, 3));
    expect(loops.map((round) => round.length)).toEqual([4, 4, 4, 4, 4, 4]);
    expect(new Set(loops.map((round) => [...round].sort((a, b) => a - b).join())).size).toBe(6);
  });

  it("are given place by place, the shortest first", () => {
    const joined = (...pairs: [number, number][]) => pairs.map(([from, to]) => ({ from, to }));
    expect(shortestLoops(3, joined([0, 1], [1, 2]))).toEqual([]);
    expect(shortestLoops(3, joined([0, 1], [1, 2], [2, 0]))).toEqual([[0, 1, 2]]);
    // a triangle with a square on one side, and a tail
    const loops = shortestLoops(6, joined([0, 1], [1, 2], [2, 3], [3, 0], [4, 0], [1, 4], [5, 4]));
    expect(loops.map((round) => [...round].sort().join())).toEqual(["0,1,4", "0,1,2,3"]);
    // four places, each joined to each: three triangles make up all
    const all = shortestLoops(4, joined([0, 1], [0, 2], [0, 3], [1, 2], [1, 3], [2, 3]));
    expect(all.map((round) => round.length)).toEqual([3, 3, 3]);
  });

  it("are found among more steps than one word of bits holds", () => {
    const ring = Array.from({ length: 40 }, (_, i) => ({ from: i, to: (i + 1) % 40 }));
    const halves = shortestLoops(40, [...ring, { from: 0, to: 20 }]);
    expect(halves.map((round) => round.length)).toEqual([21, 21]);
    const meshes = shortestLoops(48, grid(12, 4));
    expect(meshes).toHaveLength(33);
    expect(meshes.every((round) => round.length === 4)).toBe(true);
    expect(new Set(meshes.map((round) => [...round].sort((a, b) => a - b).join())).size).toBe(33);
  });

  it("are the eight triangles of a union jack", () => {
    const { loops } = networkOf(readingsOn(() => 0));
    // two sides of each triangle are half diagonal and half side or middle line: 5 + 4 + 3 steps
    expect(loops.map(({ places }) => places.length)).toEqual([12, 12, 12, 12, 12, 12, 12, 12]);
  });

  it("are as many as there are steps beyond a tree, each a way round, and none a sum of others, for any graph", () => {
    const stream = randomStream(9);
    for (let run = 0; run < 40; run++) {
      const places = 4 + Math.floor(8 * stream.uniform());
      const chain = Array.from({ length: places - 1 }, (_, i) => ({ from: i, to: i + 1 }));
      const more = Array.from({ length: 6 }, () => ({
        from: Math.floor(places * stream.uniform()),
        to: Math.floor(places * stream.uniform()),
      })).filter(({ from, to }) => Math.abs(from - to) > 1);
      const edges = [...new Map([...chain, ...more].map((e) => [[e.from, e.to].sort().join(), e])).values()];
      const loops = shortestLoops(places, edges);
      expect(loops).toHaveLength(edges.length - places + 1);
      const joined = (a: number, b: number) =>
        edges.some((e) => (e.from === a && e.to === b) || (e.from === b && e.to === a));
      for (const round of loops) {
        expect(new Set(round).size).toBe(round.length);
        expect(round.every((place, i) => joined(place, round[(i + 1) % round.length]!))).toBe(true);
      }
    }
  });
});

it("a line of an autocollimator gives the published heights through the network too", () => {
  const published = fixture<{
    baseMm: string;
    forwardArcsec: string[];
    backwardArcsec: string[];
    cumulativeUm: string[];
    minimumZoneTrueSecond: string;
    leastSquares: string;
    endPoints: string;
  }>("form/autocollimator-line.json");
  const means = published.forwardArcsec.map((v, i) => (Number(v) + Number(published.backwardArcsec[i])) / 2);
  const steps = means.slice(1).map((v) => v - means[0]!);
  const foot = mm(Number(published.baseMm));
  const network = (second: ReturnType<typeof umPerM>) => {
    // an autocollimator has no end to turn: its zero is the first reading, and is stated as known
    const readings = steps.map((v) => second.times(v));
    const end = { xMm: foot.in("mm") * steps.length, yMm: 0 };
    const run = {
      line: "guide",
      start: { xMm: 0, yMm: 0 },
      end,
      foot,
      readings,
      turned: readings.map((v) => v.times(-1)),
    };
    return levelNetwork({ name: "guide", frame, instrument, ...levelRuns([run]) });
  };
  const taken = network(umPerM(5));
  for (const [i, text] of published.cumulativeUm.entries()) {
    expect(Math.abs(taken.heightsUm[i]! - Number(text)), text).toBeLessThan(1e-9);
  }
  expect(taken.peakToValley.raw.in("um").toFixed(decimalsOf(published.leastSquares))).toBe(published.leastSquares);
  const zone = network(umPerM(arcsec(1).in("um/m"))).minimumZone.raw.in("um");
  expect(zone.toFixed(decimalsOf(published.minimumZoneTrueSecond))).toBe(published.minimumZoneTrueSecond);
});
