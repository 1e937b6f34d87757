import { leastSquares, orthonormal } from "../numerics/index.js";
import { um } from "../quantity/index.js";
import { gauge, type Surface } from "../survey/index.js";
import type { LevelDoubt } from "./level-doubt.js";
import { type LevelGraph, refuse } from "./level-graph.js";
import type { LevelSurvey } from "./level-reading.js";
import { type LevelSolution, onOneLine, planeColumns } from "./level-solution.js";

/**
 * Heights of a level survey as a map. The part of the noise that is each place's own is its noise, all the rest of their
 * covariance is shared modes.
 *
 * Own part: the eigenvalues of a network's normal matrix are at most twice the largest number of steps at a place, so
 * s² × foot² over that is in every direction of the covariance.
 */
export function levelSurface(
  survey: LevelSurvey,
  graph: LevelGraph,
  solution: LevelSolution,
  doubt: LevelDoubt,
): Surface {
  const { name, places, frame, instrument } = survey;
  if (onOneLine(places)) {
    refuse("on-a-line", `the places of ${name} lie on one line; a map needs a line beside it, take its straightness`);
  }
  const foot = Math.min(...graph.steps.map(({ footM }) => footM));
  const sigma = doubt.spread.standardDeviation.in("um/m");
  const steps = places.map((_, i) => graph.steps.filter(({ from, to }) => from === i || to === i).length);
  const own = (sigma * foot) / Math.sqrt(2 * Math.max(...steps));
  const heights = solution.tiltKnown
    ? solution.heightsUm
    : leastSquares(planeColumns(places), solution.heightsUm).residuals;
  return {
    name,
    frame,
    gauge: gauge({
      name: instrument.name ?? "level",
      resolution: um(instrument.resolution.in("um/m") * foot),
      maximumPermissibleError: um(Math.max(1e-3, instrument.maximumPermissibleError.in("um/m") * foot)),
    }),
    places: places.map((place, i) => ({ ...place, zUm: heights[i]!, count: steps[i]! })),
    noise: {
      standardUncertaintyUm: own,
      degreesOfFreedom: Math.min(doubt.spread.degreesOfFreedom, 1e9),
      source: doubt.spread.source,
    },
    drift: {
      model: "not tested",
      statement: "heights of a level survey carry the noise of all steps between them",
      modesUm: modesOf(graph, solution, sigma, own),
    },
    done: [`solved from ${survey.readings.length} inclinations, ${solution.degreesOfFreedom} more than needed`],
  };
}

/** factor of the covariance less the places' own part, plane included */
function modesOf(graph: LevelGraph, { gain }: LevelSolution, sigma: number, own: number): readonly number[][] {
  const basis = orthonormal(planeColumns(graph.places));
  const mean = Float64Array.from(gain[0]!, (_, k) => gain.reduce((s, row) => s + row[k]!, 0) / gain.length);
  // heights about their mean: at a place held at zero there is no own part to take off
  const centred = gain.map((row) => row.map((v, k) => v - mean[k]!));
  const covariance = centred.map((row, i) =>
    centred.map((other, j) => {
      let s = 0;
      for (let k = 0; k < row.length; k++) s += row[k]! * other[k]!;
      // directions of the plane have none of the own part to spare
      const plane = basis.reduce((p, q) => p + q[i]! * q[j]!, 0);
      return s * sigma * sigma - own * own * ((i === j ? 1 : 0) - plane);
    }),
  );
  return pivotedFactor(covariance);
}

/** Columns whose outer products add up to a semidefinite matrix, the greatest pivot first. */
function pivotedFactor(matrix: number[][]): readonly number[][] {
  const left = matrix.map((row) => [...row]);
  const least = 1e-10 * Math.max(...left.map((row, i) => row[i]!));
  const columns: number[][] = [];
  for (;;) {
    const pivot = left.reduce((best, row, i) => (row[i]! > left[best]![best]! ? i : best), 0);
    const size = left[pivot]![pivot]!;
    if (!(size > least) || columns.length >= left.length) return columns;
    const column = left.map((row) => row[pivot]! / Math.sqrt(size));
    columns.push(column);
    for (const [i, row] of left.entries()) for (const [j, v] of column.entries()) row[j] = row[j]! - column[i]! * v;
  }
}
