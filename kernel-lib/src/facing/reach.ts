import { MeasurementError } from "../measurement-error.js";
import { display, type Length, type MimeBundle, mm } from "../quantity/index.js";
import type { Surface } from "../survey/surface.js";

/** A rectangle on the map, in the map's own coordinates. */
export interface Area {
  readonly xFrom: Length;
  readonly xTo: Length;
  readonly yFrom: Length;
  readonly yTo: Length;
}

export interface ReachInput {
  /** where the spindle's centre can go, in the map's coordinates */
  readonly travel: Area;
  readonly cutterRadius: Length;
  /** what is to be faced */
  readonly area: Area;
  /** how far the rim runs clear of the area at each end of a pass */
  readonly runOut: Length;
  readonly feedAlong: "x" | "y";
}

/** The three outlines that differ on every machine: probed, driven, cut; made by `facing.reach`. */
export class Reach {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** the area lies inside the outermost places probed; outside it nothing is called clean or covered */
  readonly areaIsProbed: boolean;
  /** the rim comes over all of the area */
  readonly areaIsCovered: boolean;

  constructor(
    readonly area: Area,
    readonly probed: Area,
    readonly travel: Area,
    /** travel and the radius of the cutter further */
    readonly cutter: Area,
    /** where the spindle has to go so that every pass runs clear */
    readonly needed: Area,
  ) {
    this.areaIsProbed = contains(probed, area);
    this.areaIsCovered = contains(cutter, area);
    Object.freeze(this);
  }

  /** front and back rim both pass all of the area, with run-out */
  get passesRunClear(): boolean {
    return contains(this.travel, this.needed);
  }

  /** what does not fit, a sentence each; empty where all does */
  get notes(): readonly string[] {
    const { probed, cutter, needed, travel } = this;
    return [
      this.areaIsProbed
        ? ""
        : `part of the area lies outside the outermost places probed (${areaText(probed)}): nothing there is called clean or covered`,
      this.areaIsCovered ? "" : `the rim comes only to ${areaText(cutter)}: part of the area stays uncut`,
      this.passesRunClear
        ? ""
        : `to run clear at both ends the spindle has to go to ${areaText(needed)}, and the travel is ${areaText(travel)}: one rim alone cuts the last of it, with its own step where the tilts differ`,
    ].filter((note) => note !== "");
  }

  toString(): string {
    return [`probed ${areaText(this.probed)}; rim comes to ${areaText(this.cutter)}`, ...this.notes].join("; ");
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Reach of the probe, of the spindle and of the cutter's rim over an area.
 *
 * @throws MeasurementError `area` when a rectangle has no size
 * @example
 * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 160 * i, yMm: 100 * j, zUm: 0, count: 2 })));
 * const travel = facing.area(mm(0), mm(520), mm(0), mm(230));
 * const top = facing.area(mm(30), mm(470), mm(20), mm(200));
 * facing.reach({ places }, { travel, cutterRadius: mm(25), area: top, runOut: mm(3), feedAlong: "x" }).passesRunClear // => true
 */
export function reach(surface: Pick<Surface, "places">, input: ReachInput): Reach {
  needSize("travel", input.travel);
  needSize("area", input.area);
  const probed = outline(surface);
  const cutter = grown(input.travel, input.cutterRadius, input.cutterRadius);
  const clear = input.cutterRadius.plus(input.runOut);
  const sideways = input.runOut.minus(input.cutterRadius);
  const needed = input.feedAlong === "x" ? grown(input.area, clear, sideways) : grown(input.area, sideways, clear);
  return new Reach(input.area, probed, input.travel, cutter, needed);
}

/** A rectangle from its four sides. @example facing.area(mm(0), mm(100), mm(0), mm(50)).xTo.text() // => "100 mm" */
export function area(xFrom: Length, xTo: Length, yFrom: Length, yTo: Length): Area {
  return { xFrom, xTo, yFrom, yTo };
}

/** Around the outermost places of a map. */
export function outline(surface: Pick<Surface, "places">): Area {
  const xs = surface.places.map((p) => p.xMm);
  const ys = surface.places.map((p) => p.yMm);
  return area(mm(Math.min(...xs)), mm(Math.max(...xs)), mm(Math.min(...ys)), mm(Math.max(...ys)));
}

/** As text: "x 20 mm to 500 mm, y 20 mm to 220 mm". */
export function areaText({ xFrom, xTo, yFrom, yTo }: Area): string {
  const side = (from: Length, to: Length) => `${from.text("mm")} to ${to.text("mm")}`;
  return `x ${side(xFrom, xTo)}, y ${side(yFrom, yTo)}`;
}

function grown(a: Area, x: Length, y: Length): Area {
  return area(a.xFrom.minus(x), a.xTo.plus(x), a.yFrom.minus(y), a.yTo.plus(y));
}

function contains(outer: Area, inner: Area): boolean {
  return (
    outer.xFrom.si <= inner.xFrom.si &&
    inner.xTo.si <= outer.xTo.si &&
    outer.yFrom.si <= inner.yFrom.si &&
    inner.yTo.si <= outer.yTo.si
  );
}

function needSize(name: string, a: Area): void {
  if (a.xTo.si > a.xFrom.si && a.yTo.si > a.yFrom.si) return;
  throw new MeasurementError(
    "area",
    `reach: ${name} runs ${areaText(a)}, which has no size; give xFrom below xTo and yFrom below yTo`,
  );
}
