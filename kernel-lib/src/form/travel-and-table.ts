import { MeasurementError } from "../measurement-error.js";
import { leastSquaresPlane } from "../numerics/index.js";
import { display, type MimeBundle } from "../quantity/index.js";
import type { Surface } from "../survey/index.js";
import { joinedCaveat } from "../uncertainty/caveat.js";
import { counted } from "../words.js";
import { onOneLine } from "./level-solution.js";
import { range, type SurfaceSource, surfaceOf, withOpenFindings } from "./places.js";

/** The table and the path of the travel, told apart at the places that two surveys share. Made by `travelAndTable`. */
export class TravelAndTable {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by `travelAndTable` */
  constructor(
    /** the table itself against gravity, at the shared places, its plane taken out */
    readonly table: Surface,
    /** the path of the travel carried to the same places, its plane taken out: level survey less indicator survey */
    readonly travel: Surface,
  ) {
    Object.freeze(this);
  }

  toString(): string {
    const spread = ({ places }: Surface) => `${range(places.map(({ zUm }) => zUm)).toFixed(1)} µm`;
    const sentence = `at ${this.table.places.length} shared places the table itself leaves its plane by ${spread(this.table)} and the path of the travel its own by ${spread(this.travel)}, as read; take form.flatness of either for the figure with U`;
    return withOpenFindings(sentence, this.travel);
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Travel against table: an indicator in the spindle sees table less travel, a level on the still table sees the table. At the
 * places that both surveys hold, the path of the travel is the second less the first, each about its own plane.
 *
 * This is the one place where heights relative to travel and to gravity meet; tilt and offset between the two are not known.
 *
 * @param seen `byIndicator`: a map relative to travel; `byLevel`: one relative to gravity, as `levelNetwork(…).surface()` gives it
 * @throws MeasurementError `relative-to`, `frame`, `too-few-places` where fewer than four places lie within 1 mm of each other,
 *   `on-a-line`
 * @example
 * const frame = (relativeTo) => ({ relativeTo, front: "y-", plusX: "right", plusY: "back" });
 * const map = (relativeTo, twist) => ({ name: relativeTo, frame: frame(relativeTo), gauge: gauge({ resolution: um(1), maximumPermissibleError: um(2) }), places: [0, 1].flatMap((i) => [0, 1].map((j) => ({ label: `P${i}${j}`, xMm: 100 * i, yMm: 100 * j, zUm: twist * i * j, count: 2 }))), noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 9 } });
 * form.travelAndTable({ byIndicator: map("travel", 4), byLevel: map("gravity", 10) }).travel.places.map((p) => p.zUm.toFixed(1)).join() // => "1.5,-1.5,-1.5,1.5"
 */
export function travelAndTable(seen: {
  readonly byIndicator: SurfaceSource;
  readonly byLevel: SurfaceSource;
}): TravelAndTable {
  const [indicator, level] = [surfaceOf(seen.byIndicator), surfaceOf(seen.byLevel)];
  needFrames(indicator, level);
  const pairs = pairsOf(indicator, level);
  const chosen = (surface: Surface, key: "i" | "j") => pairs.map((pair) => surface.places[pair[key]]!.zUm);
  const table = shared(level, pairs, chosen(level, "j"), "table", [level]);
  const travelUm = chosen(level, "j").map((z, k) => z - chosen(indicator, "i")[k]!);
  return new TravelAndTable(table, shared(level, pairs, travelUm, "path of the travel", [level, indicator]));
}

/** places of both within 1 mm of each other, the nearest where there are several, each used once */
function pairsOf(indicator: Surface, level: Surface): readonly { readonly i: number; readonly j: number }[] {
  const near = indicator.places.flatMap((p, i) =>
    level.places.flatMap((q, j) => {
      const apart = Math.hypot(p.xMm - q.xMm, p.yMm - q.yMm);
      return apart <= 1 ? [{ i, j, apart }] : [];
    }),
  );
  const used = { i: new Set<number>(), j: new Set<number>() };
  const pairs = near
    .sort((a, b) => a.apart - b.apart || a.i - b.i)
    .filter(({ i, j }) => {
      if (used.i.has(i) || used.j.has(j)) return false;
      used.i.add(i);
      used.j.add(j);
      return true;
    })
    .sort((a, b) => a.i - b.i);
  if (!(pairs.length >= 4)) {
    refuse(
      "too-few-places",
      `${indicator.name} and ${level.name} share ${counted(pairs.length, "place")} within 1 mm; four are needed at least, off one line: read both on the same places`,
    );
  }
  if (onOneLine(pairs.map(({ j }) => level.places[j]!))) {
    refuse(
      "on-a-line",
      `the ${pairs.length} places that ${indicator.name} and ${level.name} share lie on one line; read a place beside it in both, or take the straightness of each along it`,
    );
  }
  return pairs;
}

function shared(
  level: Surface,
  pairs: readonly { readonly i: number; readonly j: number }[],
  heights: readonly number[],
  what: string,
  from: readonly Surface[],
): Surface {
  const places = pairs.map(({ j }) => level.places[j]!);
  const [x, y] = [places.map((p) => p.xMm), places.map((p) => p.yMm)];
  const { slopeX, slopeY, offset } = leastSquaresPlane(x, y, heights);
  const u = Math.hypot(...from.map(({ noise }) => noise.standardUncertaintyUm));
  const loose = from.map(({ noise }) => noise.standardUncertaintyUm ** 4 / noise.degreesOfFreedom);
  const modes = (surface: Surface, key: "i" | "j") =>
    (surface.drift?.modesUm ?? []).map((mode) => pairs.map((pair) => mode[pair[key]]!));
  return {
    name: `${what}, ${from.map(({ name }) => name).join(" less ")}`,
    frame: level.frame,
    gauge: from.at(-1)!.gauge,
    caveat: joinedCaveat(from.map((surface) => surface.caveat)),
    places: places.map((p, k) => ({ ...p, zUm: heights[k]! - slopeX * x[k]! - slopeY * y[k]! - offset })),
    noise: {
      standardUncertaintyUm: u,
      degreesOfFreedom: Math.min(1e9, u ** 4 / loose.reduce((s, v) => s + v, 0)),
      source: "readings of the surveys together",
    },
    drift: {
      model: "not tested",
      statement: "what the heights of the surveys share is carried on",
      modesUm: [...modes(level, "j"), ...(from.length > 1 ? modes(from[1]!, "i") : [])],
    },
  };
}

function needFrames(indicator: Surface, level: Surface): void {
  const [a, b] = [indicator.frame, level.frame];
  if (!(a.relativeTo === "travel" && b.relativeTo === "gravity")) {
    refuse(
      "relative-to",
      `${indicator.name} is relative to ${a.relativeTo} and ${level.name} to ${b.relativeTo}; give a map against travel and one against gravity`,
    );
  }
  if (a.front === b.front && a.plusX === b.plusX && a.plusY === b.plusY) return;
  refuse(
    "frame",
    `${indicator.name} and ${level.name} do not lie the same way round; turn one so that FRONT and +X agree`,
  );
}

function refuse(code: string, words: string): never {
  throw new MeasurementError(code, `travelAndTable: ${words}`);
}
