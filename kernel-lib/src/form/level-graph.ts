import { MeasurementError } from "../measurement-error.js";
import { leastSquares } from "../numerics/index.js";
import { counted } from "../words.js";
import type { LevelPlace, LevelSurvey } from "./level-reading.js";
import { placeName } from "./level-runs.js";

/** One reading with its places as numbers. */
export interface Step {
  readonly from: number;
  readonly to: number;
  readonly footM: number;
  readonly readUmPerM: number;
  readonly line: string;
}

/** A level survey as places joined by steps. */
export interface LevelGraph {
  readonly places: readonly LevelPlace[];
  readonly steps: readonly Step[];
  /** step by which a place was first reached from the first place, breadth first; none at the first place */
  readonly reachedBy: readonly (number | undefined)[];
  /** places in the order in which they were reached */
  readonly order: readonly number[];
}

/** @throws MeasurementError `too-few-places`, `label`, `place`, `foot`, `not-connected` */
export function graphOf(survey: LevelSurvey): LevelGraph {
  const { name, places, readings } = survey;
  if (!(places.length >= 3)) {
    refuse(
      "too-few-places",
      `${name} has ${counted(places.length, "place")}; three are needed at least, step off a longer line`,
    );
  }
  const number = numbered(survey);
  const steps = readings.map((reading): Step => {
    const [from, to] = [reading.from, reading.to].map((label) => {
      const at = number.get(label);
      if (at !== undefined) return at;
      return refuse("place", `${name} has no place ${placeName(label)} (line "${reading.line}"); give its x and y`);
    });
    checkFoot(name, reading, places[from!]!, places[to!]!);
    const { line, foot, inclination } = reading;
    return { from: from!, to: to!, footM: foot.in("m"), readUmPerM: inclination.in("um/m"), line };
  });
  return { places, steps, ...reached(name, places, steps) };
}

function numbered({ name, places }: LevelSurvey): ReadonlyMap<string, number> {
  const number = new Map<string, number>();
  places.forEach(({ label, xMm, yMm }, i) => {
    if (number.has(label)) refuse("label", `${name} has two places ${placeName(label)}; give each place its own label`);
    if (!Number.isFinite(xMm + yMm))
      refuse("place", `place ${placeName(label)} of ${name} has no x or y; give both in mm`);
    number.set(label, i);
  });
  return number;
}

function checkFoot(name: string, reading: LevelSurvey["readings"][number], a: LevelPlace, b: LevelPlace): void {
  const apart = Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm);
  const foot = reading.foot.in("mm");
  if (foot > 0 && Math.abs(apart - foot) <= 0.01 * foot) return;
  refuse(
    "foot",
    `${placeName(a.label)} and ${placeName(b.label)} of ${name} are ${Number(apart.toFixed(2))} mm apart, the foot of line "${reading.line}" is ${reading.foot.text("mm")}; places of one reading stand a foot apart, correct the places or the foot`,
  );
}

/** @throws MeasurementError `not-connected` */
function reached(
  name: string,
  places: readonly LevelPlace[],
  steps: readonly Step[],
): Pick<LevelGraph, "reachedBy" | "order"> {
  const at: number[][] = places.map(() => []);
  steps.forEach(({ from, to }, k) => {
    at[from]!.push(k);
    at[to]!.push(k);
  });
  const reachedBy: (number | undefined)[] = places.map(() => undefined);
  const order = [0];
  const seen = new Set(order);
  for (const place of order) {
    for (const k of at[place]!) {
      const other = steps[k]!.from === place ? steps[k]!.to : steps[k]!.from;
      if (seen.has(other)) continue;
      seen.add(other);
      reachedBy[other] = k;
      order.push(other);
    }
  }
  if (order.length === places.length) return { reachedBy, order };
  const apart = places.filter((_, i) => !seen.has(i)).map(({ label }) => placeName(label));
  return refuse(
    "not-connected",
    `no reading joins ${listed(apart)} of ${name} to ${placeName(places[0]!.label)}; read a step between the two parts, or survey them apart`,
  );
}

/** Heights along the tree of first steps, each rise as given for its step; the first place is at zero. */
export function integrated({ places, steps, reachedBy, order }: LevelGraph, rises: ArrayLike<number>): number[] {
  const heights: number[] = new Array(places.length).fill(0);
  for (const place of order.slice(1)) {
    const k = reachedBy[place]!;
    const { from, to } = steps[k]!;
    heights[place] = place === to ? heights[from]! + rises[k]! : heights[to]! - rises[k]!;
  }
  return heights;
}

/** What is left of the rises round the loops when heights are laid along the tree, one a step; zero on the tree. */
export function misfits(graph: LevelGraph, rises: ArrayLike<number>): number[] {
  const heights = integrated(graph, rises);
  const tree = new Set(graph.reachedBy);
  return graph.steps.map(({ from, to }, k) => (tree.has(k) ? 0 : rises[k]! - (heights[to]! - heights[from]!)));
}

/**
 * Patterns of height that the unknowns of the level could make up without any loop noticing.
 *
 * @param unknowns a column each: what an unknown of size 1 µm/m adds to each reading
 */
export function unseenPatterns(graph: LevelGraph, unknowns: readonly (readonly number[])[]): readonly number[][] {
  const risesOf = (column: readonly number[]) => column.map((v, k) => -v * graph.steps[k]!.footM);
  const closing: number[][] = [];
  const kept: number[] = [];
  const unseen: number[][] = [];
  unknowns.forEach((column, g) => {
    const left = misfits(graph, risesOf(column));
    const fit = kept.length > 0 ? leastSquares(closing, left) : { coefficients: [], residuals: left };
    const size = Math.hypot(...column.map((v, k) => v * graph.steps[k]!.footM));
    if (Math.hypot(...fit.residuals) > 1e-9 * size) {
      closing.push(left);
      kept.push(g);
      return;
    }
    const mixed = column.map((v, k) => fit.coefficients.reduce((s, c, j) => s - c * unknowns[kept[j]!]![k]!, v));
    unseen.push(integrated(graph, risesOf(mixed)));
  });
  return unseen;
}

export function listed(labels: readonly string[]): string {
  return labels.length > 5 ? `${labels.slice(0, 5).join(", ")} and ${labels.length - 5} more` : labels.join(", ");
}

export function refuse(code: string, words: string): never {
  throw new MeasurementError(code, `levelNetwork: ${words}`);
}
