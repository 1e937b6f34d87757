import { MeasurementError } from "../measurement-error.js";
import { type Kind, toSi, type Unit, units } from "./kinds.js";

/** other ways of writing a unit that a shop-floor sheet uses */
const spellings: { readonly [written: string]: string } = {
  '"': "in",
  inch: "in",
  μm: "um",
  µm: "um",
  micron: "um",
  microns: "um",
  C: "degC",
  "°C": "degC",
  ºC: "degC",
  F: "degF",
  "°F": "degF",
  ºF: "degF",
  rpm: "1/min",
  Nm: "N.m",
  "µm/m": "um/m",
  "μm/m": "um/m",
  "µm/K": "um/K",
  "μm/K": "um/K",
  "µm/°C": "um/degC",
  "μm/°C": "um/degC",
};

const numberThenUnit = /^([+\-−]?\d+(?:[.,]\d+)?(?:[eE][+\-−]?\d+)?|[+\-−]?[.,]\d+(?:[eE][+\-−]?\d+)?)\s*(.*)$/u;

/**
 * The SI value of a text such as `"12 µm"`, `"0.0005 in"`, `"-3,5 µm"`.
 *
 * A point or a comma divides the decimals; a text with both, or with grouped thousands, is refused because it can be
 * read two ways. The unit is needed; only a plain number goes without.
 *
 * @throws MeasurementError `not-a-quantity`, `unknown-unit`
 */
export function parseQuantity(kind: Kind, text: string): number {
  const found = numberThenUnit.exec(text.trim());
  const [, digits = "", written = ""] = found ?? [];
  const value = parseDecimal(digits);
  if (value === undefined) {
    throw new MeasurementError(
      "not-a-quantity",
      `${kind}: ${JSON.stringify(short(text))} is not a number with its unit; write it like ${example(kind)}`,
    );
  }
  const unit = findUnit(kind, written.trim());
  if (!unit) {
    throw new MeasurementError(
      "unknown-unit",
      `${kind}: ${JSON.stringify(short(text))} has ${written.trim() ? `the unit "${short(written.trim())}"` : "no unit"}; use ${Object.keys(units[kind]).join(", ")}`,
    );
  }
  return toSi(unit, value);
}

/** A decimal number with a point or a comma; undefined where the text is anything else. */
export function parseDecimal(text: string): number | undefined {
  if (!/^[+\-−]?(\d+([.,]\d*)?|[.,]\d+)([eE][+\-−]?\d+)?$/u.test(text)) return undefined;
  const value = Number(text.replace(",", ".").replaceAll("−", "-"));
  return Number.isFinite(value) ? value : undefined;
}

/** The unit a person wrote: its name, its printed symbol or a usual spelling. */
export function findUnit(kind: Kind, written: string): Unit | undefined {
  const row: { readonly [name: string]: Unit } = units[kind];
  const name = Object.hasOwn(spellings, written) ? spellings[written]! : written;
  if (Object.hasOwn(row, name)) return row[name];
  if (written === "") return Object.values(row).find((u) => u.symbol === "");
  return Object.values(row).find((u) => u.symbol === written);
}

function example(kind: Kind): string {
  const first = Object.values(units[kind])[0] as Unit;
  return `"12.5${first.symbol ? ` ${first.symbol}` : ""}"`;
}

function short(text: string): string {
  return text.length > 40 ? `${text.slice(0, 37)}…` : text;
}
