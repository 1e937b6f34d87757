import { MeasurementError } from "../measurement-error.js";
import { median } from "../numerics/index.js";
import { display, type MimeBundle } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import { counted } from "../words.js";
import type { Surface } from "./surface.js";
import { Survey } from "./survey.js";
import { leverages, trendBasis } from "./trend.js";

/** A place where the next reading would tell much. */
export interface NextPlace {
  /** name of the place where it is on the map already; missing where it is a new one */
  readonly label?: string;
  readonly xMm: number;
  readonly yMm: number;
  readonly reason: string;
  /** 1 is what the map is used to: a gap as wide as its usual one, a surface as uncertain as its average; more is better */
  readonly gain: number;
}

/** Where to read next, most telling first. */
export class NextPlaces {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by `whereNext` */
  constructor(
    readonly name: string,
    readonly places: readonly NextPlace[],
  ) {
    Object.freeze(this);
  }

  toString(): string {
    const lines = this.places.map(
      ({ label, xMm, yMm, reason }, i) => `${i + 1}. ${label ?? "new"} at x ${xMm} mm, y ${yMm} mm: ${reason}`,
    );
    return [`where next on ${this.name}`, ...lines].join("\n");
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Where the next readings would tell most: first what the health of a survey asks to have confirmed, then by turns the
 * widest gaps and the spots where the smooth surface (plane, bow, twist) is least certain, each chosen as if those before it were read.
 *
 * New places lie between the outermost ones; whether a slot or a hole is there only you can see.
 *
 * @throws MeasurementError `too-few-places` below 6, `count`
 * @example
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const spots = [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => [100 * i, 80 * j])).filter(([x, y]) => !(x === 200 && y === 80));
 * const places = spots.map(([xMm, yMm], i) => ({ label: `P${i}`, xMm, yMm, zUm: 0, count: 2 }));
 * const next = survey.whereNext({ name: "map", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 8 } });
 * `${next.places[0].xMm}, ${next.places[0].yMm}` // => "200, 80"
 */
export function whereNext(source: Survey | Surface, options: { readonly count?: number } = {}): NextPlaces {
  const { count = 6 } = options;
  if (!(Number.isInteger(count) && count >= 1 && count <= 50)) {
    throw new MeasurementError("count", `whereNext: ${count} places; give a whole number from 1 to 50`);
  }
  const surface = source instanceof Survey ? source.surface() : source;
  if (!(surface.places.length >= 6)) {
    throw new MeasurementError(
      "too-few-places",
      `whereNext: ${surface.name} has ${counted(surface.places.length, "place")}; at least 6 are needed to say where the next one tells most`,
    );
  }
  const confirm = source instanceof Survey ? toConfirm(source) : [];
  const fresh = newPlaces(surface, Math.max(0, count - confirm.length));
  return new NextPlaces(surface.name, [...confirm.slice(0, count), ...fresh]);
}

/** places that a check of the survey's health names */
function toConfirm(survey: Survey): NextPlace[] {
  const found = new Map<string, NextPlace>();
  for (const { check, severity, places, what } of survey.health().findings) {
    if (severity === "note" || !["passes", "neighbours", "blanks"].includes(check)) continue;
    for (const label of places) {
      const place = survey.places.find((p) => p.label === label);
      if (!place || found.has(label)) continue;
      const reason = `${check === "blanks" ? "fill in" : "confirm"}: ${what}`;
      found.set(label, { label, xMm: place.x.in("mm"), yMm: place.y.in("mm"), reason, gain: 10 });
    }
  }
  return [...found.values()];
}

interface Spot {
  readonly xMm: number;
  readonly yMm: number;
}

function newPlaces({ places }: Surface, count: number): NextPlace[] {
  const known: Spot[] = places.map(({ xMm, yMm }) => ({ xMm, yMm }));
  const usual = median(
    known.map((spot) =>
      nearest(
        spot,
        known.filter((other) => other !== spot),
      ),
    ),
  );
  const candidates = rasterOf(known, usual);
  const chosen: NextPlace[] = [];
  while (chosen.length < count) {
    const gaps = candidates.map((spot) => nearest(spot, known));
    const doubts = doubtsOf(known, candidates);
    // the middle of a grid's cell is 0.71 of its pitch away from the corners
    const byGap = gaps.map((gap) => gap / (Math.SQRT1_2 * usual));
    const byDoubt = doubts.map((doubt, i) => (gaps[i]! > usual / 4 ? doubt : 0));
    const score = byGap.map((gap, i) => Math.max(gap, byDoubt[i]!));
    const best = score.reduce((most, value, i) => (value > 1.02 * score[most]! ? i : most), 0);
    const spot = candidates[best];
    if (!spot || !(gaps[best]! > 0)) break;
    const reason =
      byGap[best]! >= byDoubt[best]!
        ? `the nearest reading is ${printNumber(gaps[best]!, 3)} mm away, where ${printNumber(usual, 3)} mm is usual`
        : `the smooth surface is ${printNumber(byDoubt[best]!, 2)} times as uncertain here as on average`;
    chosen.push({ ...spot, reason, gain: score[best]! });
    known.push(spot);
  }
  return chosen;
}

/** standard uncertainty of a second-degree surface at each spot, over its average at the places read */
function doubtsOf(known: readonly Spot[], candidates: readonly Spot[]): number[] {
  const all = [...known, ...candidates];
  const points = { x: all.map(({ xMm }) => xMm), y: all.map(({ yMm }) => yMm) };
  const own = known.map((_, i) => i);
  const terms = trendBasis(points, own, 2).length;
  const average = Math.sqrt(terms / known.length);
  return candidates.map((_, k) => {
    // leverage h of a spot added to those read: its variance before it is read is h/(1 − h)
    const which = [...own, known.length + k];
    const h = leverages(trendBasis(points, which, 2), which.length)[which.length - 1]!;
    return h < 1 - 1e-9 ? Math.sqrt(h / (1 - h)) / average : 0;
  });
}

function nearest(spot: Spot, others: readonly Spot[]): number {
  return others.reduce(
    (least, o) => Math.min(least, Math.hypot(o.xMm - spot.xMm, o.yMm - spot.yMm)),
    Number.POSITIVE_INFINITY,
  );
}

/** where the lines of the places read cross, then spots on whole millimetres a quarter of the usual distance apart */
function rasterOf(known: readonly Spot[], usual: number): Spot[] {
  const [xs, ys] = [known.map(({ xMm }) => xMm), known.map(({ yMm }) => yMm)];
  const crossings = productOf([...new Set(xs)], [...new Set(ys)]);
  const axis = (values: readonly number[], most: number) => {
    const [low, high] = [Math.min(...values), Math.max(...values)];
    const steps = Math.min(most, Math.max(1, Math.round((high - low) / (usual / 4))));
    return [...new Set(Array.from({ length: steps + 1 }, (_, i) => Math.round(low + ((high - low) * i) / steps)))];
  };
  // scattered places have nearly as many lines each way as places
  const isGrid = crossings.length <= 4 * known.length;
  return [...(isGrid ? crossings : []), ...productOf(axis(xs, 30), axis(ys, 20))];
}

function productOf(xs: readonly number[], ys: readonly number[]): Spot[] {
  return xs.flatMap((xMm) => ys.map((yMm) => ({ xMm, yMm })));
}
