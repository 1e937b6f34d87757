import { inUnit, type Kind, type Unit, units } from "./kinds.js";

/** the unit a size is read best in: below the limit (in SI) the unit is used; the last of a row has no limit */
const bySize: { readonly [K in Kind]?: readonly (readonly [limit: number, unit: string])[] } = {
  length: [
    [0.999_5e-3, "um"],
    [10, "mm"],
    [Number.POSITIVE_INFINITY, "m"],
  ],
  force: [
    [1000, "N"],
    [Number.POSITIVE_INFINITY, "kN"],
  ],
};

/**
 * Text of a quantity: the unit asked for, or the one that suits its size; at most six significant digits, fewer where
 * the number is round. Real minus sign, space before the unit (none before ° ′ ″).
 */
export function printQuantity(kind: Kind, si: number, unit?: string): string {
  const found = unitFor(kind, si, unit);
  return withUnit(printNumber(inUnit(found, si)), found);
}

/** The unit a value is printed in when none is asked for. */
export function unitFor(kind: Kind, si: number, unit?: string): Unit {
  const row: { readonly [name: string]: Unit } = units[kind];
  const name = unit ?? bySize[kind]?.find(([limit]) => Math.abs(si) < limit)?.[1] ?? Object.keys(row)[0]!;
  const found = si === 0 && unit === undefined && kind === "length" ? row.um : row[name];
  return found as Unit;
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

/** A printed number and its unit. */
export function withUnit(text: string, unit: Unit): string {
  if (unit.symbol === "") return text;
  return /^[°′″]$/.test(unit.symbol) ? `${text}${unit.symbol}` : `${text} ${unit.symbol}`;
}
