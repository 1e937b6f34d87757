import { MeasurementError } from "../measurement-error.js";
import type { Json } from "./figure.js";

type Rgb = readonly [red: number, green: number, blue: number];

/** A run of colours from 0 to 1, straight between its stops. */
export interface ColourScale {
  readonly stops: readonly Rgb[];
}

/** Heights: low is cool, zero neutral, high warm. Blue against orange is told apart with any of the common colour
 * blindnesses, and every colour is light enough for dark figures to be read on it. */
export const heightScale: ColourScale = {
  stops: [
    [75, 150, 199],
    [123, 180, 213],
    [173, 207, 226],
    [244, 241, 236],
    [243, 205, 165],
    [231, 163, 103],
    [214, 118, 46],
  ],
};

/** Uncertainty: the darker, the less is known. */
export const uncertaintyScale: ColourScale = {
  stops: [
    [250, 250, 250],
    [146, 146, 146],
  ],
};

/** Chance: from neutral to warm, as heights above a limit are. */
export const chanceScale: ColourScale = { stops: heightScale.stops.slice(3) };

/** The colour at a place of the scale, 0 to 1; beyond it the end colour. */
export function colourAt({ stops }: ColourScale, at: number): string {
  if (!Number.isFinite(at)) throw new MeasurementError("not-finite", `colour scale: ${at} is not a place on it`);
  const place = Math.min(Math.max(at, 0), 1) * (stops.length - 1);
  const i = Math.min(Math.floor(place), stops.length - 2);
  const [from, to] = [stops[i]!, stops[i + 1]!];
  return css(from.map((value, k) => Math.round(value + (to[k]! - value) * (place - i))));
}

/** The scale as plotly takes it. */
export function plotlyScale({ stops }: ColourScale): Json {
  return stops.map((stop, i) => [i / (stops.length - 1), css(stop)]);
}

function css([red, green, blue]: readonly number[]): string {
  return `rgb(${red},${green},${blue})`;
}
