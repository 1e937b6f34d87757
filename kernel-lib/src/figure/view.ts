import { MeasurementError } from "../measurement-error.js";
import type { Edge, Frame, Surface } from "../survey/surface.js";
import { counted } from "../words.js";
import { type PrintUnits, placeText } from "./print-units.js";

/** An axis of a picture: which coordinate of the sheet runs along it, and whether it grows with it or against it. */
export interface ViewAxis {
  readonly name: "x" | "y";
  readonly sign: 1 | -1;
}

/** A place as the operator at FRONT sees it: `u` to the right, `v` away from them; in the units of the picture. */
export interface ViewPlace {
  readonly label: string;
  readonly u: number;
  readonly v: number;
  readonly value: number;
  /** "x 400 mm, y 50 mm" */
  readonly where: string;
}

/** A map turned so that FRONT is below. */
export interface View {
  readonly across: ViewAxis;
  readonly away: ViewAxis;
  readonly places: readonly ViewPlace[];
}

const plusAway: { readonly [E in Edge]: ["x" | "y", 1 | -1] } = {
  "x-": ["x", 1],
  "x+": ["x", -1],
  "y-": ["y", 1],
  "y+": ["y", -1],
};

/**
 * Turns a map, heights in µm over places in mm, so that the operator's edge is below; a sheet that counts table motion comes out the right way round.
 *
 * @throws MeasurementError `frame` when the edges and directions of the frame contradict each other, `shape` when there
 * is not one value a place, `not-finite`, `too-few-places`
 */
export function viewOf(surface: Surface, values: readonly number[], units: PrintUnits): View {
  const { across, away } = viewAxes(surface.frame, surface.name);
  if (values.length !== surface.places.length) {
    throw new MeasurementError(
      "shape",
      `figure of ${surface.name}: ${counted(values.length, "value")} for ${counted(surface.places.length, "place")}; give one a place`,
    );
  }
  if (surface.places.length < 3) {
    throw new MeasurementError(
      "too-few-places",
      `figure of ${surface.name}: ${counted(surface.places.length, "place")}; a surface needs three that are not on one line`,
    );
  }
  const places = surface.places.map(({ label, xMm, yMm }, i) => {
    const value = values[i]!;
    if (!(Number.isFinite(value) && Number.isFinite(xMm) && Number.isFinite(yMm))) {
      throw new MeasurementError(
        "not-finite",
        `figure of ${surface.name}, place ${label}: x ${xMm} mm, y ${yMm} mm, value ${value}; all three must be numbers`,
      );
    }
    const own = { x: units.place.of(xMm), y: units.place.of(yMm) };
    const where = `x ${placeText(units, xMm)}, y ${placeText(units, yMm)}`;
    return { label, u: along(across, own), v: along(away, own), value: units.height.of(value), where };
  });
  return { across, away, places };
}

/** The axes of a picture of a frame, FRONT below. @throws MeasurementError `frame` */
export function viewAxes(frame: Frame, name: string): Pick<View, "across" | "away"> {
  const [own, sign] = plusAway[frame.front];
  const away: ViewAxis = { name: own, sign };
  return { across: acrossAxis(frame, away, name), away };
}

/** Coordinate of a place along an axis of the picture; a turned axis has no −0. */
export function along({ name, sign }: ViewAxis, own: { readonly x: number; readonly y: number }): number {
  return sign === 1 ? own[name] : 0 - own[name];
}

function acrossAxis(frame: Frame, away: ViewAxis, name: string): ViewAxis {
  const plus = { x: frame.plusX, y: frame.plusY };
  const other = away.name === "x" ? "y" : "x";
  const seenAway = away.sign === 1 ? "back" : "front";
  if (plus[away.name] === seenAway && plus[other] === "right") return { name: other, sign: 1 };
  if (plus[away.name] === seenAway && plus[other] === "left") return { name: other, sign: -1 };
  throw new MeasurementError(
    "frame",
    `figure of ${name}: FRONT is ${frame.front}, +X points ${frame.plusX} and +Y points ${frame.plusY}; with this FRONT ` +
      `+${away.name.toUpperCase()} points ${seenAway} and the other axis right or left; check the sheet at the machine`,
  );
}
