import { surfaceOf } from "../form/places.js";
import { correct } from "./correction.js";
import { Decision } from "./decision.js";
import { leave, level, statedArea, stone, tram } from "./map-options.js";
import { ownOptions, plate, regrind, scrape } from "./other-options.js";
import { checkSetting, type OptionsInput } from "./setting.js";
import { simulate } from "./simulation.js";

/**
 * Options for a table, against each other: level the machine, leave it, work in a stated area, stone the rim, re-tram,
 * correct in the control, plate faced in place, scrape, regrind.
 *
 * Each option turns true surfaces that fit the map (noise, drift and gauge drawn with a seed, about denoised heights)
 * into the surface afterwards, and its minimum zone flatness into an estimate, a 95 % interval and a chance to meet the
 * tolerance. What can't be predicted from the map says so. Hours and outlay are the reader's own and are not weighed.
 *
 * @param input map, tolerance with its source, and what is known of hours, outlay, plate and part
 * @throws MeasurementError `tolerance`, `tolerance-source`, `draws`, `part`, `texture`, `gauge`, `too-few-places`, `few-repeats`; with a second survey `same-reference`, `two-frames`, `other-places`
 * @see ISO 14253-1:2017 (claims at 95 %), ISO 12781-1 (minimum zone flatness)
 * @example
 * const places = [0, 1, 2, 3, 4, 5].flatMap((i) => [0, 1, 2, 3, 4].map((j) => ({ label: `P${i}${j}`, xMm: 40 * i, yMm: 40 * j, zUm: 0.4 * (i - 2.5) ** 2, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const surface = { name: "table", frame, gauge: { name: "dial", resolution: um(1), maximumPermissibleError: um(1) }, places, noise: { standardUncertaintyUm: 0.3, degreesOfFreedom: 30 } };
 * decision.options({ surface, tolerance: { upper: um(20), source: "the job" } }).option("leave").verdict // => "conforms"
 */
export function options(input: OptionsInput): Decision {
  const { independent, ...rest } = input;
  const second = independent ? { independent: surfaceOf(independent) } : {};
  const setting = { ...rest, ...second, surface: surfaceOf(input.surface) };
  checkSetting(setting);
  const simulation = simulate(setting);
  const makers = [level, leave, statedArea, stone, tram, correct, plate, scrape, regrind];
  return new Decision(
    simulation,
    [...makers.map((make) => make(simulation)), ...ownOptions(simulation)].map((option) => Object.freeze(option)),
  );
}
