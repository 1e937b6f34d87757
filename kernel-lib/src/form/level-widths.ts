import { minimumZoneLine, minimumZonePlane, orthonormal } from "../numerics/index.js";
import { minimumZoneWidths } from "../numerics/minimum-zone.js";
import { minimumZoneLineWidths } from "../numerics/minimum-zone-line.js";
import { type CorrectedWidth, corrected } from "./corrected-width.js";
import { newDoubt } from "./flatness-terms.js";
import type { LevelDoubt } from "./level-doubt.js";
import type { LevelGraph } from "./level-graph.js";
import { type LevelSolution, onOneLine, planeColumns } from "./level-solution.js";
import { range } from "./places.js";
import { smoothForms, smoothLines } from "./smooth-form.js";

/** What the widths of one network are found from. */
export interface LevelWidthSource {
  readonly graph: LevelGraph;
  readonly solution: LevelSolution;
  readonly doubt: LevelDoubt;
  readonly seed: number;
}

/**
 * Peak to valley of the heights of a network, about the least-squares plane (line) or as minimum zone. What the noise
 * adds is simulated from readings to heights, so that the heights' correlation is in it.
 */
export function levelWidth(source: LevelWidthSource, by: "least squares" | "minimum zone"): CorrectedWidth {
  const { graph, solution, doubt, seed } = source;
  const { places, steps } = graph;
  const t = onOneLine(places);
  const [x, y] = [places.map(({ xMm }) => xMm), places.map(({ yMm }) => yMm)];
  const z = solution.heightsUm;
  const count = places.length;
  const sigma = doubt.spread.standardDeviation.in("um/m");
  const { degreesOfFreedom, source: from } = doubt.spread;
  const basis = orthonormal(planeColumns(places));
  const gain = aboutPlane(solution.gain, basis);
  const spreads = gain.map((row) => sigma * Math.hypot(...row));
  const noise = {
    standardUncertaintyUm: Math.sqrt(spreads.reduce((s, u) => s + u * u, 0) / count),
    degreesOfFreedom,
  };
  const heights = t ? smoothLines(t, z, noise, 1) : smoothForms({ x, y, z }, noise);
  const size = Math.max(steps.length, count);
  // a form stands as the readings it would give; what a draw has more than readings is not looked at
  const forms = heights.map((form) => [
    ...steps.map(({ from: a, to: b, footM }) => (form[b]! - form[a]!) / footM),
    ...new Array<number>(size - steps.length).fill(0),
  ]);
  const scratch = new Float64Array(count);
  const reduce = (values: Float64Array) => {
    for (let i = 0; i < count; i++) {
      let s = 0;
      for (let k = 0; k < steps.length; k++) s += gain[i]![k]! * values[k]!;
      scratch[i] = s;
    }
    values.set(scratch);
    values.fill(scratch[0]!, count);
  };
  const zone = t ? minimumZoneLineWidths(t) : minimumZoneWidths(x, y);
  const figure = by === "least squares" ? range : (values: Float64Array) => zone(values.subarray(0, count));
  const about = z.map((v, i) => v - basis.reduce((s, q) => s + q[i]! * dot(q, z), 0));
  const read = by === "least squares" ? range(about) : t ? minimumZoneLine(t, z).zone : minimumZonePlane(x, y, z).zone;
  return corrected(
    {
      ...newDoubt({ noise: { standardUncertaintyUm: sigma, degreesOfFreedom, source: from } }, 0),
      // the scale of the level moves a width as the drift of a map does: all heights together
      drift: doubt.scale ? [doubt.scale] : [],
    },
    forms,
    { reduce, figure },
    { raw: read, seed, draws: by === "least squares" ? 1500 : 300, drift: doubt.scale ? [read] : [] },
  );
}

/** rows of the gain with the plane through all places taken out */
function aboutPlane(gain: readonly Float64Array[], basis: readonly (readonly number[])[]): readonly Float64Array[] {
  const length = gain[0]!.length;
  const shares = basis.map((q) => {
    const sums = new Float64Array(length);
    for (const [i, row] of gain.entries()) for (let k = 0; k < length; k++) sums[k] = sums[k]! + q[i]! * row[k]!;
    return sums;
  });
  return gain.map((row, i) => row.map((v, k) => basis.reduce((s, q, j) => s - q[i]! * shares[j]![k]!, v)));
}

function dot(a: readonly number[], b: readonly number[]): number {
  return a.reduce((s, v, i) => s + v * b[i]!, 0);
}
