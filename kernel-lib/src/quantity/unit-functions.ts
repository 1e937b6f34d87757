import { MeasurementError } from "../measurement-error.js";
import type { Kind, UnitNames } from "./kinds.js";
import { units } from "./kinds.js";
import { Quantity } from "./quantity.js";

/** makes the function that turns a bare number into a quantity of one unit */
function unit<K extends Kind>(kind: K, name: UnitNames[K]): (value: number) => Quantity<K> {
  const { factor, offset = 0 } = (units[kind] as { [n: string]: { factor: number; offset?: number } })[name] as {
    factor: number;
    offset?: number;
  };
  return (value) => {
    if (typeof value !== "number" || !Number.isFinite(value)) {
      throw new MeasurementError("not-finite", `${name}: ${String(value)} is not a ${kind}; give a finite number`);
    }
    return Quantity.fromSi(kind, (value + offset) * factor);
  };
}

export const m = unit("length", "m");
/** Millimetres. @example mm(25.4).in("in") // => 1 */
export const mm = unit("length", "mm");
/** Micrometres. @example um(2.5).text() // => "2.5 µm" */
export const um = unit("length", "um");
export const inch = unit("length", "in");
/** Thousandths of an inch. @example thou(1).in("um") // => 25.4 */
export const thou = unit("length", "thou");
/** Ten-thousandths of an inch. @example tenth(1).in("um") // => 2.54 */
export const tenth = unit("length", "tenth");
export const mm2 = unit("area", "mm2");
export const cm3 = unit("volume", "cm3");
export const deg = unit("angle", "deg");
export const rad = unit("angle", "rad");
/** Micrometres per metre, the same thing as microradians. @example umPerM(100).times(mm(500)).in("um") // => 50 */
export const umPerM = unit("slope", "um/m");
/** Millimetres per metre, as vials are marked. */
export const mmPerM = unit("slope", "mm/m");
/** Arc-seconds of inclination. */
export const arcsec = unit("slope", "arcsec");
/** A temperature on the Celsius scale (a point; for a difference use `kelvin`). */
export const degC = unit("temperature", "degC");
export const degF = unit("temperature", "degF");
/** A temperature difference in kelvin. */
export const kelvin = unit("temperature difference", "K");
/** A temperature difference in Fahrenheit degrees. @example fahrenheitDegrees(9).in("K") // => 5 */
export const fahrenheitDegrees = unit("temperature difference", "degF");
export const seconds = unit("time", "s");
export const minutes = unit("time", "min");
export const hours = unit("time", "h");
export const newton = unit("force", "N");
export const kN = unit("force", "kN");
export const newtonMetre = unit("torque", "N.m");
export const kW = unit("power", "kW");
export const MPa = unit("pressure", "MPa");
export const GPa = unit("pressure", "GPa");
export const mPerMin = unit("cutting speed", "m/min");
export const mmPerMin = unit("feed", "mm/min");
export const perMin = unit("rotational speed", "1/min");
/** Expansion coefficient in 1/K. @example perKelvin(11.5e-6).in("um/(m.K)") // => 11.5 */
export const perKelvin = unit("expansion coefficient", "1/K");
export const kg = unit("mass", "kg");
export const gPerCm3 = unit("density", "g/cm3");
/** A plain number as a quantity of kind "number". */
export const plain = unit("number", "1");

/** Slope as rise over run. @example slope(um(20), mm(150)).in("um/m").toFixed(1) // => "133.3" */
export function slope(rise: Quantity<"length">, run: Quantity<"length">): Quantity<"slope"> {
  return Quantity.fromSi("slope", rise.si / run.si);
}

/** Reads a length: a point or a comma, metric or inch. @example length("0.0005 in").in("um") // => 12.7 */
export function length(text: string): Quantity<"length"> {
  return Quantity.parse("length", text);
}

/** Reads a temperature. @example temperature("68 °F").in("degC").toFixed(2) // => "20.00" */
export function temperature(text: string): Quantity<"temperature"> {
  return Quantity.parse("temperature", text);
}
