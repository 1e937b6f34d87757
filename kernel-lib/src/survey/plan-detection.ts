import { MeasurementError } from "../measurement-error.js";
import { type Length, mm, Quantity } from "../quantity/index.js";
import { sizeText } from "../quantity/size-text.js";

/**
 * Chance that a round defect somewhere at random on the table lies under none of the places of a grid.
 *
 * A place under it must also read high enough to be believed: give the diameter where the defect exceeds the limit, as
 * `diameterAbove` finds it; merely touched at its rim it is not seen. Between places nothing is seen, however often they are read.
 *
 * @param diameter of the defect where it exceeds what can be told
 * @param pitchX spacing of the places along X
 * @param pitchY spacing along Y; that along X where left out
 * @throws MeasurementError `plan`
 * @see area of a disc outside a rectangle, by its four segments: common geometry
 * @example
 * survey.missChance(mm(10), mm(50), mm(40)).toFixed(2) // => "0.96"
 * @example
 * [1.1, 1.2, 1.5].map((d) => survey.missChance(mm(d), mm(1)).toFixed(3)).join() // => "0.111,0.049,0.000"
 */
export function missChance(diameter: Length, pitchX: Length, pitchY: Length = pitchX): number {
  const [d, p, q] = [diameter, pitchX, pitchY].map((size, i) => needSize(size, ["diameter", "pitch", "pitch"][i]!));
  return missOf(d! / 2, p!, q!);
}

/**
 * The pitch of a square grid at which a round defect is missed with no more than the chance given; at a chance of 0 every
 * such defect has a place under it.
 *
 * @throws MeasurementError `plan`
 * @example
 * survey.pitchFor(mm(40), 0.05).in("mm").toFixed(1) // => "33.4"
 */
export function pitchFor(diameter: Length, chance = 0.05): Length {
  const d = needSize(diameter, "diameter");
  if (!(chance >= 0 && chance < 1))
    refusePlan(`the chance of a miss is ${chance}; give a number from 0 to below 1, such as 0.05`);
  // pitch over diameter: at 1/√2 nothing is missed; the chance then only grows with the pitch
  let low = Math.SQRT1_2;
  let high = 2 / Math.sqrt(1 - chance);
  for (let turn = 0; turn < 60; turn++) {
    const middle = (low + high) / 2;
    if (missOf(0.5, middle, middle) <= chance) low = middle;
    else high = middle;
  }
  return mm(d * low);
}

/**
 * Diameter over which a dome stands higher than a limit; its section is taken for a parabola. Zero where it never does.
 *
 * @throws MeasurementError `plan`
 * @example
 * survey.diameterAbove(mm(40), um(20), um(5)).in("mm").toFixed(1) // => "34.6"
 */
export function diameterAbove(diameter: Length, height: Length, limit: Length): Length {
  const d = needSize(diameter, "diameter");
  const share = needSize(limit, "limit") / needSize(height, "height");
  return mm(d * Math.sqrt(Math.max(0, 1 - share)));
}

/** 1 − share of the cell about a place that lies nearer than r, as long as its corner is not reached */
export function missOf(r: number, pitchX: number, pitchY: number): number {
  if (r >= Math.hypot(pitchX, pitchY) / 2) return 0;
  const covered = Math.PI * r * r - 2 * segment(r, pitchX / 2) - 2 * segment(r, pitchY / 2);
  return Math.max(0, 1 - covered / (pitchX * pitchY));
}

/** area of a disc beyond a line at the distance h from its centre */
function segment(r: number, h: number): number {
  if (!(r > h)) return 0;
  // the half angle by its sine, which keeps its digits where the line only just cuts the disc
  const half = Math.atan2(Math.sqrt((r - h) * (r + h)), h);
  return r * r * (half - Math.sin(2 * half) / 2);
}

/** a length above zero, in millimetres */
export function needSize(given: unknown, what: string): number {
  if (given instanceof Quantity && given.kind === "length" && given.si > 0) return given.si * 1000;
  return refusePlan(`the ${what} is ${sizeText(given)}; give a length above zero, such as mm(40)`);
}

export function refusePlan(sentence: string): never {
  throw new MeasurementError("plan", `plan: ${sentence}`);
}
