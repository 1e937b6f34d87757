import { MeasurementError } from "../measurement-error.js";
import { arcsec, type Length, Quantity, type Slope } from "../quantity/index.js";
import { sizeText } from "../quantity/size-text.js";
import type { Gauge, RelativeTo, Surface } from "../survey/index.js";
import { counted } from "../words.js";
import { placesOf, type SurfaceSource, surfaceOf } from "./places.js";

/** Heights along a line, with what is known of their noise. */
export interface Line {
  /** "row y 20 mm of table-before.csv" */
  readonly name: string;
  /** "x", "y", or what the places run along: "the guide" */
  readonly along: string;
  readonly relativeTo: RelativeTo;
  readonly atMm: readonly number[];
  readonly labels: readonly string[];
  /** what was read at each place in µm: its height, or for steps the rise from the place before (0 at the first) */
  readonly readUm: readonly number[];
  readonly reads: "heights" | "steps";
  /** of one reading, µm */
  readonly noise: Surface["noise"];
  /** missing where the error of the instrument is in the noise */
  readonly gauge?: Gauge;
  /** what the health check of the survey asks for first */
  readonly caveat?: Surface["caveat"];
  /** shared doubt of the heights, as in a map */
  readonly modesUm: readonly (readonly number[])[];
}

/** heights of the places, the first one zero where steps were read */
export function heightsOf({ reads, readUm }: Pick<Line, "reads" | "readUm">): readonly number[] {
  const heights = Float64Array.from(readUm);
  if (reads === "steps") cumulate(heights);
  return Array.from(heights);
}

export function cumulate(steps: Float64Array): void {
  for (let i = 1; i < steps.length; i++) steps[i] = steps[i - 1]! + steps[i]!;
}

/** A row or a column of a map. @throws MeasurementError `no-such-line`, `too-few-places`, and as `flatness` */
export function lineOfMap(source: SurfaceSource, which: { readonly along: "x" | "y"; readonly at: Length }): Line {
  const surface = surfaceOf(source);
  const { x, y, z } = placesOf("straightness", surface);
  const [run, across] = which.along === "x" ? [x, y] : [y, x];
  const other = which.along === "x" ? "y" : "x";
  const lines = [...new Set(across)].sort((a, b) => a - b);
  const wanted = which.at.in("mm");
  const nearest = lines.reduce((best, v) => (Math.abs(v - wanted) < Math.abs(best - wanted) ? v : best));
  const pitch = Math.min(...lines.slice(1).map((v, i) => v - lines[i]!));
  if (!(Math.abs(nearest - wanted) <= pitch / 4)) {
    throw new MeasurementError(
      "no-such-line",
      `straightness: no places of ${surface.name} at ${other} ${wanted} mm; there are some at ${lines.map((v) => `${v}`).join(", ")} mm`,
    );
  }
  const chosen = [...z.keys()].filter((i) => across[i] === nearest).sort((i, j) => run[i]! - run[j]!);
  const name = `${surface.name}, ${other} ${nearest} mm`;
  needThree(name, chosen.length);
  return {
    name,
    along: which.along,
    relativeTo: surface.frame.relativeTo,
    atMm: chosen.map((i) => run[i]!),
    labels: chosen.map((i) => surface.places[i]!.label),
    readUm: chosen.map((i) => z[i]!),
    reads: "heights",
    noise: surface.noise,
    gauge: surface.gauge,
    caveat: surface.caveat,
    modesUm: (surface.drift?.modesUm ?? []).map((mode) => chosen.map((i) => mode[i]!)),
  };
}

/** Readings of a level or an autocollimator moved along a line foot by foot. */
export interface LevelReadings {
  readonly name: string;
  /** what the line runs along: "x", "the guide" */
  readonly along?: string;
  readonly relativeTo?: RelativeTo;
  /** distance of the feet, and of the steps */
  readonly base: Length;
  /** one list a pass, each with the inclination of every step in turn */
  readonly passes: readonly (readonly Slope[])[];
  /** ± of one reading */
  readonly maximumPermissibleError: Slope;
  readonly resolution: Slope;
  /** where a table takes one second for a round figure: 5 µm/m; the true one where left out */
  readonly secondTakenAs?: Slope;
}

/**
 * A line from inclinations: each reading is the rise over one base, heights are their sums. n readings give n + 1 places.
 *
 * The error of each reading (maximum permissible error, rectangular) is taken as independent from step to step and goes
 * into the noise; an error that all readings share turns the line and does not matter.
 *
 * @throws MeasurementError `too-few-places`, `passes`, `inclination`, `base`
 * @example
 * form.heightsAlong(form.levelLine({ name: "guide", base: mm(100), passes: [[arcsec(0), arcsec(3), arcsec(7)]], maximumPermissibleError: arcsec(1), resolution: arcsec(1), secondTakenAs: umPerM(5) })).map((z) => z.toFixed(1)).join() // => "0.0,0.0,1.5,5.0"
 */
export function levelLine(given: LevelReadings): Line {
  const { name, base, passes, maximumPermissibleError, resolution, secondTakenAs } = given;
  const count = passes[0]?.length ?? 0;
  needThree(name, count + 1);
  if (!passes.every((pass) => pass.length === count)) {
    const counts = passes.map((pass) => pass.length).join(", ");
    refuse("passes", `${name} has passes of ${counts} readings; give each step in every pass`);
  }
  if (!(base.si > 0)) refuse("base", `the base of ${name} is ${sizeText(base)}; give the distance of the feet`);
  needInclinations(name, passes);
  const scale = (secondTakenAs === undefined ? 1 : secondTakenAs.si / arcsec(1).si) * base.in("um");
  const rises = passes.map((pass) => pass.map((reading) => reading.si * scale));
  const means = Array.from({ length: count }, (_, i) => rises.reduce((s, pass) => s + pass[i]!, 0) / passes.length);
  const baseMm = base.in("mm");
  return {
    name,
    along: given.along ?? "the line",
    relativeTo: given.relativeTo ?? "gravity",
    atMm: Array.from({ length: count + 1 }, (_, i) => i * baseMm),
    labels: Array.from({ length: count + 1 }, (_, i) => `${i}`),
    readUm: [0, ...means],
    reads: "steps",
    noise: levelNoise(
      rises,
      means,
      (maximumPermissibleError.si * scale) / Math.sqrt(3),
      (resolution.si * scale) / Math.sqrt(12),
    ),
    modesUm: [],
  };
}

/** Heights of the places of a line in µm. @example typeof form.heightsAlong // => "function" */
export function heightsAlong(line: Line): readonly number[] {
  return heightsOf(line);
}

function levelNoise(
  rises: readonly (readonly number[])[],
  means: readonly number[],
  instrument: number,
  step: number,
): Surface["noise"] {
  // each pass may stand at its own angle: its mean is taken out
  const shifts = rises.map((pass) => pass.reduce((s, v, i) => s + v - means[i]!, 0) / means.length);
  const squares = rises.flatMap((pass, p) => pass.map((v, i) => (v - means[i]! - shifts[p]!) ** 2));
  const freedom = (means.length - 1) * (rises.length - 1);
  const variance = freedom > 0 ? squares.reduce((s, v) => s + v, 0) / freedom / rises.length : 0;
  const random = Math.max(variance, step ** 2);
  const total = random + instrument ** 2;
  const nu = variance > step ** 2 ? (freedom * total ** 2) / random ** 2 : Number.POSITIVE_INFINITY;
  const source = freedom > 0 ? "passes against each other, and the instrument" : "the resolution and the instrument";
  return { standardUncertaintyUm: Math.sqrt(total), degreesOfFreedom: nu, source };
}

function needInclinations(name: string, passes: LevelReadings["passes"]): void {
  passes.forEach((pass, p) => {
    const step = pass.findIndex((reading) => !(reading instanceof Quantity && reading.kind === "slope"));
    if (step < 0) return;
    const where = `step ${step + 1} of pass ${p + 1} of ${name}`;
    refuse("inclination", `${where} is ${String(pass[step])}; give an inclination, such as arcsec(3)`);
  });
}

function needThree(name: string, count: number): void {
  if (count >= 3) return;
  refuse(
    "too-few-places",
    `${name} has ${counted(count, "place")} in line; three are needed at least, measure between`,
  );
}

function refuse(code: string, words: string): never {
  throw new MeasurementError(code, `straightness: ${words}`);
}
