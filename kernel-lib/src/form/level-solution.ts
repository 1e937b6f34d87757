import { leastSquares } from "../numerics/index.js";
import { type LevelGraph, refuse, unseenPatterns } from "./level-graph.js";
import type { LevelPlace, LevelZero } from "./level-reading.js";

/** A level survey solved by least squares. Heights in µm, readings in µm/m. */
export interface LevelSolution {
  readonly heightsUm: readonly number[];
  /** of each reading less what the heights and the zero make it */
  readonly residualsUmPerM: readonly number[];
  /** share of a blunder in a reading that its own residual shows, 0 to 1 */
  readonly redundancies: readonly number[];
  readonly degreesOfFreedom: number;
  /** sum of squares of the residuals, (µm/m)² */
  readonly squares: number;
  /** height of each place in µm for 1 µm/m more in each reading */
  readonly gain: readonly Float64Array[];
  /** correlation of the residuals of two readings */
  readonly alike: (i: number, j: number) => number;
  /** reading less the part of it that is the level's own */
  readonly levelledUmPerM: readonly number[];
  /** whether the tilt of the whole can be told from the zero of the level */
  readonly tiltKnown: boolean;
}

interface Asked {
  readonly name: string;
  readonly zero: LevelZero;
  readonly tiltWanted: boolean;
}

/**
 * Heights, zero of the level and residuals by least squares, equal weights. The first place is at zero; where a zero
 * goes into the tilt, the heights lie about their plane.
 *
 * @throws MeasurementError `zero-one-way`, `zero-in-form`
 */
export function solveLevels(graph: LevelGraph, asked: Asked): LevelSolution {
  const { places, steps } = graph;
  const unknowns = unknownsOf(graph, asked.zero);
  const held = heldPatterns(graph, unknowns, asked);
  const known = typeof asked.zero === "string" ? 0 : asked.zero.in("um/m");
  const read = steps.map(({ readUmPerM }) => readUmPerM - known);
  const columns = [
    ...places.slice(1).map((_, i) => heightColumn(graph, i + 1, held)),
    ...unknowns.map((column) => [...column, ...held.map(() => 0)]),
  ];
  const fit = leastSquares(columns, [...read, ...held.map(() => 0)]);
  const inverse = fit.covarianceFactor;
  const count = places.length - 1;
  // (XᵀX)⁻¹ x_k: what reading k does to every unknown
  const effects = steps.map(({ from, to, footM }, k) =>
    inverse.map((row) => {
      const rise = ((to > 0 ? row[to - 1]! : 0) - (from > 0 ? row[from - 1]! : 0)) / footM;
      return unknowns.reduce((s, column, g) => s + row[count + g]! * column[k]!, rise);
    }),
  );
  const redundancies = steps.map((_, k) => Math.max(0, 1 - fit.leverages[k]!));
  const hat = (i: number, j: number) => {
    const { from, to, footM } = steps[i]!;
    const effect = effects[j]!;
    const rise = ((to > 0 ? effect[to - 1]! : 0) - (from > 0 ? effect[from - 1]! : 0)) / footM;
    return unknowns.reduce((s, column, g) => s + column[i]! * effect[count + g]!, rise);
  };
  const own = (k: number) => unknowns.reduce((s, column, g) => s + column[k]! * fit.coefficients[count + g]!, 0);
  return {
    heightsUm: [0, ...fit.coefficients.slice(0, count)],
    residualsUmPerM: fit.residuals.slice(0, steps.length),
    redundancies,
    degreesOfFreedom: fit.degreesOfFreedom,
    squares: fit.residuals.slice(0, steps.length).reduce((s, v) => s + v * v, 0),
    gain: places.map((_, i) => Float64Array.from(effects, (effect) => (i === 0 ? 0 : effect[i - 1]!))),
    alike: (i, j) => -hat(i, j) / Math.sqrt(redundancies[i]! * redundancies[j]!),
    levelledUmPerM: read.map((v, k) => v - own(k)),
    tiltKnown: held.length === 0,
  };
}

/** rise over the foot that a micrometre at one place makes in each reading; below, its part in what is held at zero */
function heightColumn({ steps }: LevelGraph, place: number, held: readonly (readonly number[])[]): number[] {
  const rows = steps.map(({ from, to, footM }) => ((to === place ? 1 : 0) - (from === place ? 1 : 0)) / footM);
  return [...rows, ...held.map((pattern) => pattern[place]! / steps[0]!.footM)];
}

/** columns of the level's own unknowns */
function unknownsOf({ steps }: LevelGraph, zero: LevelZero): readonly (readonly number[])[] {
  if (typeof zero !== "string") return [];
  if (zero === "one") return [steps.map(() => 1)];
  const lines = [...new Set(steps.map(({ line }) => line))];
  return lines.flatMap((line) => {
    const members = steps.flatMap((step, k) => (step.line === line ? [k] : []));
    const offset = steps.map((step) => (step.line === line ? 1 : 0));
    if (zero === "a line" || members.length < 2) return [offset];
    const middle = (members.length - 1) / 2;
    const course = steps.map(() => 0);
    members.forEach((k, i) => {
      course[k] = (i - middle) / Math.max(1, middle);
    });
    return [offset, course];
  });
}

/** Patterns that the zero could make up; they are planes about zero, or the survey is refused. */
function heldPatterns(
  graph: LevelGraph,
  unknowns: readonly (readonly number[])[],
  { name, tiltWanted }: Asked,
): readonly (readonly number[])[] {
  const unseen = unseenPatterns(graph, unknowns);
  if (unseen.length === 0) return [];
  const planes = planeColumns(graph.places);
  const size = (v: readonly number[]) => Math.max(...v.map(Math.abs));
  for (const pattern of unseen) {
    if (size(leastSquares(planes, pattern).residuals) <= 1e-7 * size(pattern)) continue;
    refuse(
      "zero-in-form",
      `the zero of the level (or its drift) was read one way only on lines of ${name} that nothing else closes, and cannot be told from their form; read those lines again with the level turned end for end`,
    );
  }
  if (tiltWanted) {
    refuse(
      "zero-one-way",
      `the zero of the level was read one way only in ${name} and cannot be told from a tilt; read a step again with the level turned end for end, state the zero, or write tilt: "not wanted"`,
    );
  }
  const mean = (v: readonly number[]) => v.reduce((s, a) => s + a, 0) / v.length;
  return independent(unseen.map((v) => v.map((a) => (a - mean(v)) / size(v))));
}

/** of patterns that are planes, those that are no sum of the ones before */
function independent(patterns: readonly (readonly number[])[]): readonly (readonly number[])[] {
  const kept: (readonly number[])[] = [];
  for (const pattern of patterns) {
    const left = kept.length > 0 ? leastSquares(kept, pattern).residuals : pattern;
    if (Math.hypot(...left) > 1e-7 * Math.hypot(...pattern)) kept.push(pattern);
  }
  return kept;
}

/** Columns of a plane over the places; of a line where they lie on one. */
export function planeColumns(places: readonly LevelPlace[]): readonly (readonly number[])[] {
  const ones = places.map(() => 1);
  const along = onOneLine(places);
  if (along) return [ones, along];
  return [ones, places.map(({ xMm }) => xMm), places.map(({ yMm }) => yMm)];
}

/** Distances in mm along the line on which all places lie; undefined where they span an area. */
export function onOneLine(places: readonly LevelPlace[]): readonly number[] | undefined {
  const [first] = places;
  const far = places.reduce((best, p) => (apart(first!, p) > apart(first!, best) ? p : best));
  const length = apart(first!, far);
  const [ux, uy] = [(far.xMm - first!.xMm) / length, (far.yMm - first!.yMm) / length];
  const offset = (p: LevelPlace) => (p.xMm - first!.xMm) * uy - (p.yMm - first!.yMm) * ux;
  if (places.some((p) => Math.abs(offset(p)) > 1e-3 * length)) return undefined;
  return places.map((p) => (p.xMm - first!.xMm) * ux + (p.yMm - first!.yMm) * uy);
}

function apart(a: LevelPlace, b: LevelPlace): number {
  return Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm);
}
