import { MeasurementError } from "../measurement-error.js";
import { withArticle } from "../words.js";
import { type Kind, toSi, type Unit, type UnitNames, units } from "./kinds.js";
import { Quantity } from "./quantity.js";

/** makes the function that turns a bare number into a quantity of one unit */
function unit<K extends Kind>(kind: K, name: UnitNames[K]): (value: number) => Quantity<K> {
  const row: { readonly [unit: string]: Unit } = units[kind];
  const found = row[name] as Unit;
  return (value) => {
    if (typeof value !== "number" || !Number.isFinite(value)) {
      throw new MeasurementError(
        "not-finite",
        `${name}: ${String(value)} is not ${withArticle(kind)}; give a finite number`,
      );
    }
    return Quantity.fromSi(kind, toSi(found, value));
  };
}

/** Metres. @example m(1).in("mm") // => 1000 */
export const m = unit("length", "m");
/** Millimetres. @example mm(25.4).in("in") // => 1 */
export const mm = unit("length", "mm");
/** Micrometres. @example um(2.5).text() // => "2.5 µm" */
export const um = unit("length", "um");
/** Inches, 25.4 mm exactly. @example inch(2).in("mm") // => 50.8 */
export const inch = unit("length", "in");
/** Thousandths of an inch. @example thou(1).in("um") // => 25.4 */
export const thou = unit("length", "thou");
/** Ten-thousandths of an inch. @example tenth(1).in("um") // => 2.54 */
export const tenth = unit("length", "tenth");
/** Square millimetres. @example mm2(100).over(mm(20)).text("mm") // => "5 mm" */
export const mm2 = unit("area", "mm2");
/** Cubic centimetres. @example cm3(1).in("mm3") // => 1000 */
export const cm3 = unit("volume", "cm3");
/** Degrees of arc. @example deg(180).in("rad") // => Math.PI */
export const deg = unit("angle", "deg");
/** Radians. @example rad(Math.PI).text("deg") // => "180°" */
export const rad = unit("angle", "rad");
/** Micrometres per metre, the same thing as microradians. @example umPerM(100).times(mm(500)).in("um") // => 50 */
export const umPerM = unit("slope", "um/m");
/** Millimetres per metre, as vials are marked. @example mmPerM(0.02).in("um/m") // => 20 */
export const mmPerM = unit("slope", "mm/m");
/** Arc-seconds of inclination. @example arcsec(10).text("um/m") // => "48.4814 µm/m" */
export const arcsec = unit("slope", "arcsec");
/** A temperature on the Celsius scale (a point; for a difference use `kelvin`). @example degC(20).text("K") // => "293.15 K" */
export const degC = unit("temperature", "degC");
/** A temperature on the Fahrenheit scale (a point; for a difference use `fahrenheitDegrees`). @example degF(68).text("degC") // => "20 °C" */
export const degF = unit("temperature", "degF");
/** A temperature difference in kelvin. @example degC(20).plus(kelvin(2)).text() // => "22 °C" */
export const kelvin = unit("temperature difference", "K");
/** A temperature difference in Fahrenheit degrees. @example fahrenheitDegrees(9).in("K") // => 5 */
export const fahrenheitDegrees = unit("temperature difference", "degF");
/** Seconds. @example seconds(90).in("min") // => 1.5 */
export const seconds = unit("time", "s");
/** Minutes. @example minutes(2).in("s") // => 120 */
export const minutes = unit("time", "min");
/** Hours. @example hours(0.5).in("min") // => 30 */
export const hours = unit("time", "h");
/** Newtons. @example newton(2500).text() // => "2.5 kN" */
export const newton = unit("force", "N");
/** Kilonewtons. @example kN(2).times(mm(100)).text() // => "200 N·m" */
export const kN = unit("force", "kN");
/** Newton metres of tightening torque. @example newtonMetre(50).over(mm(2)).text() // => "25 kN" */
export const newtonMetre = unit("torque", "N.m");
/** Kilowatts. @example kW(1.5).in("W") // => 1500 */
export const kW = unit("power", "kW");
/** Megapascals, the same thing as N/mm². @example MPa(200).times(mm2(10)).text() // => "2 kN" */
export const MPa = unit("pressure", "MPa");
/** Gigapascals, for moduli of elasticity. @example GPa(70).in("MPa") // => 70000 */
export const GPa = unit("pressure", "GPa");
/** Cutting speed in metres per minute. @example mPerMin(90).text("ft/min") // => "295.276 ft/min" */
export const mPerMin = unit("cutting speed", "m/min");
/** Feed in millimetres per minute. @example mmPerMin(100).over(perMin(2000)).text() // => "50 µm" */
export const mmPerMin = unit("feed", "mm/min");
/** Spindle speed in turns per minute. @example perMin(2000).times(mm(0.05)).text() // => "100 mm/min" */
export const perMin = unit("rotational speed", "1/min");
/** Expansion coefficient per kelvin. @example perKelvin(11.5e-6).text() // => "11.5 µm/(m·K)" */
export const perKelvin = unit("expansion coefficient", "1/K");
/** Thermal drift of a set-up, micrometres per kelvin (ISO 230-3 speaks of thermal drift). @example umPerKelvin(2.5).times(kelvin(4)).text() // => "10 µm" */
export const umPerKelvin = unit("thermal drift", "um/K");
/** Kilograms. @example kg(2).in("g") // => 2000 */
export const kg = unit("mass", "kg");
/** Density in grams per cubic centimetre. @example gPerCm3(2.7).times(cm3(1000)).text() // => "2.7 kg" */
export const gPerCm3 = unit("density", "g/cm3");
/** A plain number as a quantity of kind "number". @example plain(0.2).times(kN(10)).text() // => "2 kN" */
export const plain = unit("number", "1");

/** Slope as rise over run. @example slope(um(20), mm(150)).in("um/m").toFixed(1) // => "133.3" */
export function slope(rise: Quantity<"length">, run: Quantity<"length">): Quantity<"slope"> {
  return Quantity.fromSi("slope", rise.si / run.si);
}

/** Reads a length: a point or a comma, metric or inch. @example length("0.0005 in").in("um") // => 12.7 */
export function length(text: string): Quantity<"length"> {
  return Quantity.parse("length", text);
}

/** Reads a temperature. @example temperature("68 °F").text("degC") // => "20 °C" */
export function temperature(text: string): Quantity<"temperature"> {
  return Quantity.parse("temperature", text);
}
