import { inUnit, type Kind, type Unit, type UnitSystem, units } from "./kinds.js";

type BySize = { readonly [K in Kind]?: readonly (readonly [limit: number, unit: string])[] };

const beyond = Number.POSITIVE_INFINITY;

/** the unit a size is read best in: below the limit (in SI) the unit is used; the last of a row has no limit. A kind
 * without a row takes the first unit of the unit table. */
const bySize: { readonly [S in UnitSystem]: BySize } = {
  metric: {
    length: [
      [0.999_5e-3, "um"],
      [10, "mm"],
      [beyond, "m"],
    ],
    force: [
      [1000, "N"],
      [beyond, "kN"],
    ],
  },
  inch: {
    length: [
      [25.399e-6, "tenth"],
      [2.5399e-3, "thou"],
      [beyond, "in"],
    ],
    area: [[beyond, "in2"]],
    volume: [[beyond, "in3"]],
    slope: [[beyond, "thou/ft"]],
    temperature: [[beyond, "degF"]],
    "temperature difference": [[beyond, "degF"]],
    force: [[beyond, "lbf"]],
    torque: [
      [6.779, "lbf.in"],
      [beyond, "lbf.ft"],
    ],
    power: [[beyond, "hp"]],
    pressure: [[beyond, "psi"]],
    "cutting speed": [[beyond, "ft/min"]],
    feed: [[beyond, "in/min"]],
    "expansion coefficient": [[beyond, "uin/(in.degF)"]],
    "thermal drift": [
      [4.571e-5, "uin/degF"],
      [beyond, "thou/degF"],
    ],
    mass: [[beyond, "lb"]],
    density: [[beyond, "lb/in3"]],
  },
};

/** the unit of a zero, where the size says nothing */
const ofZero: { readonly [S in UnitSystem]: { readonly [K in Kind]?: string } } = {
  metric: { length: "um" },
  inch: { length: "thou" },
};

/**
 * Text of a quantity: the unit asked for, or the one of the system asked for that suits its size; at most six significant digits, fewer where
 * the number is round. Real minus sign, space before the unit (none before ° ′ ″).
 */
export function printQuantity(kind: Kind, si: number, unit?: string): string {
  const found = unitFor(kind, si, unit);
  return withUnit(printNumber(inUnit(found, si)), found);
}

/** The unit a value is printed in: the one asked for by name, or the one of that system that suits its size. */
export function unitFor(kind: Kind, si: number, asked: string = "metric"): Unit {
  const row: { readonly [name: string]: Unit } = units[kind];
  if (asked !== "metric" && asked !== "inch") return row[asked] as Unit;
  const suited = bySize[asked][kind]?.find(([limit]) => Math.abs(si) < limit)?.[1];
  const name = (si === 0 ? ofZero[asked][kind] : undefined) ?? suited ?? Object.keys(row)[0]!;
  return row[name] as Unit;
}

/** A number with up to six significant digits, trailing zeros dropped and the real minus sign. */
export function printNumber(value: number, digits = 6): string {
  const rounded = Number(value.toPrecision(digits));
  const size = Math.abs(rounded);
  const text = size !== 0 && (size < 1e-4 || size >= 1e9) ? rounded.toExponential() : plainDecimal(rounded, digits);
  return text.replace("-", "−");
}

/** A number with a fixed count of decimals and the real minus sign; never "−0.0". */
export function printDecimals(value: number, decimals: number): string {
  const text = value.toFixed(Math.min(Math.max(decimals, 0), 20));
  return Number(text) === 0 ? text.replace("-", "") : text.replace("-", "−");
}

function plainDecimal(value: number, digits: number): string {
  if (value === 0) return "0";
  const decimals = Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(value))));
  return value
    .toFixed(Math.min(decimals, 20))
    .replace(/(\.\d*?)0+$/, "$1")
    .replace(/\.$/, "");
}

/** Text of a quantity to the digits its standard uncertainty allows: to the place of the second digit of u. */
export function printToUncertainty(kind: Kind, si: number, uncertaintySi: number, unit?: string): string {
  const found = unitFor(kind, si, unit);
  return withUnit(printRounded(inUnit(found, si), decimalsFor(uncertaintySi / sizeOf(found))), found);
}

/** Text of a width or an uncertainty, to two significant digits. */
export function printTwoDigits({ kind, si }: { readonly kind: Kind; readonly si: number }, unit?: string): string {
  const found = unitFor(kind, si, unit);
  return withUnit(printSignificantTwo(si / sizeOf(found)), found);
}

/** A width or an uncertainty to two significant digits, both of them written: 4.0, 0.60, 39. */
export function printSignificantTwo(value: number): string {
  const size = Math.abs(value);
  return size >= 1e-4 && size < 1e9 ? printRounded(value, decimalsFor(size)) : printNumber(value, 2);
}

/** A printed number and its unit. */
export function withUnit(text: string, unit: Unit): string {
  if (unit.symbol === "") return text;
  return /^[°′″]$/.test(unit.symbol) ? `${text}${unit.symbol}` : `${text} ${unit.symbol}`;
}

/** how many SI units one unit is: what a difference is divided by */
export function sizeOf(unit: Unit): number {
  return unit.times / unit.per;
}

/** Decimal place of the second significant digit; negative for tens and hundreds. */
export function decimalsFor(spread: number): number {
  if (!(spread > 0 && Number.isFinite(spread))) return 6;
  const exponent = Number(spread.toExponential(1).split("e")[1]);
  return 1 - exponent;
}

/** A number to that decimal place, also to tens and hundreds. */
export function printRounded(value: number, decimals: number): string {
  if (decimals >= 0) return printDecimals(value, decimals);
  const step = 10 ** -decimals;
  return printDecimals(Math.round(value / step) * step, 0);
}
