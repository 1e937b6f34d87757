import { inUnit, type Kind, toSi, type Unit, type UnitSystem, units } from "../quantity/kinds.js";
import { decimalsFor, printRounded, sizeOf, withUnit } from "../quantity/print.js";

/** A metric unit that our texts print, and the unit that stands for it in an inch text. */
interface Pair {
  readonly from: Unit;
  readonly to: Unit;
  /** a place is never given more coarsely than to a thou */
  readonly leastDecimals: number;
}

const pairs: ReadonlyMap<string, Pair> = new Map(
  [
    pair("length", "mm", "in", 3),
    pair("length", "um", "thou"),
    pair("length", "m", "in"),
    pair("length", "nm", "thou"),
    pair("area", "mm2", "in2"),
    pair("area", "m2", "in2"),
    pair("volume", "mm3", "in3"),
    pair("volume", "cm3", "in3"),
    pair("slope", "um/m", "thou/ft"),
    pair("slope", "mm/m", "thou/ft"),
    pair("slope", "mm/300mm", "thou/ft"),
    pair("temperature", "degC", "degF"),
    pair("temperature difference", "K", "degF"),
    pair("force", "N", "lbf"),
    pair("force", "kN", "lbf"),
    pair("torque", "N.m", "lbf.ft"),
    pair("power", "W", "hp"),
    pair("power", "kW", "hp"),
    pair("pressure", "MPa", "psi"),
    pair("pressure", "GPa", "psi"),
    pair("pressure", "N/mm2", "psi"),
    pair("cutting speed", "m/min", "ft/min"),
    pair("feed", "mm/min", "in/min"),
    pair("expansion coefficient", "um/(m.K)", "uin/(in.degF)"),
    pair("thermal drift", "um/K", "uin/degF"),
    pair("thermal drift", "um/degC", "uin/degF"),
    pair("thermal drift", "mm/K", "thou/degF"),
    pair("mass", "kg", "lb"),
    pair("mass", "g", "lb"),
    pair("density", "kg/m3", "lb/in3"),
    pair("density", "g/cm3", "lb/in3"),
    // mean squares
    squared(pair("length", "um", "thou")),
  ].map((row) => [row.from.symbol, row]),
);

function pair<K extends Kind>(
  kind: K,
  from: string & keyof (typeof units)[K],
  to: string & keyof (typeof units)[K],
  leastDecimals = 0,
): Pair {
  return { from: units[kind][from] as Unit, to: units[kind][to] as Unit, leastDecimals };
}

function squared({ from, to, leastDecimals }: Pair): Pair {
  const square = ({ symbol, times, per }: Unit): Unit => ({
    symbol: `${symbol}²`,
    times: times * times,
    per: per * per,
    offset: 0,
  });
  return { from: square(from), to: square(to), leastDecimals };
}

const number = "[−-]?\\d+(?:\\.\\d+)?(?:e[−-]?\\d+)?";
const symbols = [...pairs.keys()].sort((a, b) => b.length - a.length).map(escaped);
const unit = symbols.join("|");
/** "−18.1 µm ± 3.4 µm" */
const measured = `(?<![\\w.µ])(${number}) (${unit}) ± (${number}) \\2(?![\\w/·²³µ°(])`;
const stands = `(?<![\\w.µ])(?:(${number})( to | × ))?(${number}) (${unit})(?![\\w/·²³µ°(])`;

/**
 * A metric text of our own in the units of a system: "x 400 mm" becomes "x 15.748 in", "0.6 µm" becomes "0.024 thou".
 *
 * Each number is given as finely as it was printed or up to ten times finer, so that it says the same: rounded to the
 * digits it had in metric, it is the metric number again. Of a value ± U, U keeps two digits and the value ends at the
 * same place. What stands in quotation marks, and the names kept, are words
 * that somebody chose and stay as they are.
 *
 * @param kept names that may hold a unit, as of a survey or an option
 */
export function restated(text: string, system: UnitSystem, kept: readonly string[] = []): string {
  if (system === "metric") return text;
  const left = ['"[^"]*"', ...kept.filter((name) => name !== "").map(escaped)];
  const wanted = new RegExp(`${left.join("|")}|${measured}|${stands}`, "g");
  return text.replace(wanted, (all, ...found: (string | undefined)[]) => {
    const [value, symbolOfValue, u, first, joint, last, symbol] = found;
    if (value !== undefined && u !== undefined) return restatedMeasured(value, u, pairs.get(symbolOfValue!)!);
    if (last === undefined) return all;
    const at = Number(found[7]); // the replacer is given the place after the groups
    const row = pairs.get(symbol!)!;
    const apart = isDifference(text, at, symbol!) ? withoutOffset(row) : row;
    const ending = withUnit(inPair(last, apart), apart.to);
    if (first === undefined) return ending;
    // of "3.2 × 0.6 µm" the first is a factor, of "40 × 50 mm" a length
    return `${joint === " × " && symbol !== "mm" ? first : inPair(first, apart)}${joint}${ending}`;
  });
}

function restatedMeasured(value: string, u: string, row: Pair): string {
  const spread = numberOf(u) * (sizeOf(row.from) / sizeOf(row.to));
  if (!(spread > 0))
    return `${withUnit(inPair(value, row), row.to)} ± ${withUnit(inPair(u, withoutOffset(row)), row.to)}`;
  const decimals = decimalsFor(spread);
  const centre = inUnit(row.to, toSi(row.from, numberOf(value)));
  return `${withUnit(printRounded(centre, decimals), row.to)} ± ${withUnit(printRounded(spread, decimals), row.to)}`;
}

function numberOf(printed: string): number {
  return Number(printed.replaceAll("−", "-"));
}

/** Numbers of a table's cell whose unit stands in the heading. */
export function restatedCell(cell: string, metricUnit: string, system: UnitSystem): string {
  const row = pairs.get(metricUnit);
  if (system === "metric" || row === undefined) return cell;
  return cell.replace(new RegExp(`(?<![\\w.])${number}(?![\\w.])`, "g"), (found) => inPair(found, row));
}

/** The unit that a heading names. */
export function restatedUnit(metricUnit: string, system: UnitSystem): string {
  return system === "metric" ? metricUnit : (pairs.get(metricUnit)?.to.symbol ?? metricUnit);
}

function inPair(printed: string, { from, to, leastDecimals }: Pair): string {
  const [digits, power = "0"] = printed.replaceAll("−", "-").split("e");
  const decimals = (digits!.split(".")[1]?.length ?? 0) - Number(power);
  const finer = Math.ceil(-Math.log10(sizeOf(from) / sizeOf(to)));
  const value = inUnit(to, toSi(from, numberOf(printed)));
  return printRounded(value, Math.max(leastDecimals, decimals + finer));
}

/** "± 2 °C" is a difference, "20 °C" a point on the scale */
function isDifference(text: string, at: number, symbol: string): boolean {
  return symbol === "°C" && /± $/.test(text.slice(0, at));
}

function withoutOffset({ from, to, leastDecimals }: Pair): Pair {
  return { from: { ...from, offset: 0 }, to: { ...to, offset: 0 }, leastDecimals };
}

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\/]/g, "\\$&");
}
