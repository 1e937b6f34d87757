import { MeasurementError } from "../measurement-error.js";
import { type Kind, Quantity } from "../quantity/index.js";
import { inUnit, toSi, type Unit, units } from "../quantity/kinds.js";
import { parseDecimal } from "../quantity/parse.js";
import { type Gauge, gauge, type Repeatability } from "./gauge.js";
import { type PreambleLines, quantityOf } from "./preamble-lines.js";
import { refuseSheet } from "./sheet-error.js";

/** lines `# gauge …:` that hold a quantity, and the field they fill */
const quantityLines = [
  ["gauge resolution", "resolution", "length"],
  ["gauge maximum permissible error", "maximumPermissibleError", "length"],
  ["gauge maximum permissible error whole", "maximumPermissibleErrorWhole", "length"],
  ["gauge range", "range", "length"],
  ["gauge range per turn", "rangePerTurn", "length"],
  ["gauge hysteresis", "hysteresis", "length"],
  ["gauge plunger tilt", "plungerTilt", "angle"],
  ["gauge lever angle", "leverAngle", "angle"],
] as const;

/** The gauge of a sheet: what its lines say and what the code says, refused where the two differ. */
export function mergeGauge(lines: PreambleLines, stated: Gauge | undefined): Gauge {
  const said = fromLines(lines);
  const fields = new Set([...Object.keys(said), ...Object.keys(stated ?? {})]) as Set<keyof Gauge>;
  for (const field of fields) needAgreement(lines.name, field, said[field], stated?.[field]);
  const merged = { ...stated, ...said };
  const { resolution, maximumPermissibleError } = merged;
  if (!resolution || !maximumPermissibleError) {
    return refuseSheet(
      "gauge-missing",
      { name: lines.name },
      'the sheet does not say which gauge was used; write above the heading "# gauge resolution: 1 µm" and "# gauge maximum permissible error: 4 µm", or give a gauge in code',
    );
  }
  try {
    return gauge({ ...merged, resolution, maximumPermissibleError });
  } catch (error) {
    if (!(error instanceof MeasurementError)) throw error;
    return refuseSheet(error.code, { name: lines.name }, error.message);
  }
}

/** The lines that say the same of a gauge again, to the last digit. */
export function gaugeLines(made: Gauge): (readonly [key: string, value: string])[] {
  const lines: (readonly [string, string])[] = [];
  if (made.name !== "gauge") lines.push(["gauge", made.name]);
  for (const [key, field, kind] of quantityLines) {
    const value = made[field];
    if (value) lines.push([key, exactText(kind, value.si)]);
  }
  const { repeatability } = made;
  if (repeatability) {
    const s = exactText("length", repeatability.standardDeviation.si);
    lines.push(["gauge repeatability", `${s} with ${repeatability.degreesOfFreedom} degrees of freedom`]);
  }
  if (made.display) lines.push(["gauge display", made.display]);
  if (made.fractionEstimated !== undefined) lines.push(["gauge fraction estimated", String(made.fractionEstimated)]);
  if (made.sense) lines.push(["positive", made.sense === "plus" ? "surface stands high" : "surface stands low"]);
  return lines;
}

function fromLines(lines: PreambleLines): Partial<Gauge> {
  const said: { [field: string]: unknown } = {};
  const name = lines.takeText("gauge");
  if (name !== undefined) said.name = name;
  for (const [key, field, kind] of quantityLines) {
    const found = lines.take(key);
    if (found) said[field] = quantityOf(lines, key, found, kind);
  }
  readRepeatability(lines, said);
  readWords(lines, said, "gauge display", "display", { digital: "digital", analogue: "analogue" });
  readWords(lines, said, "positive", "sense", { "surface stands high": "plus", "surface stands low": "minus" });
  const fraction = lines.take("gauge fraction estimated");
  if (fraction)
    said.fractionEstimated =
      parseDecimal(fraction.value) ?? unclear(lines, "gauge fraction estimated", fraction, "0.2");
  return said as Partial<Gauge>;
}

function readRepeatability(lines: PreambleLines, said: { [field: string]: unknown }): void {
  const key = "gauge repeatability";
  const found = lines.take(key);
  if (!found) return;
  const parts = /^(.+?) with (\S+) degrees of freedom$/.exec(found.value);
  const degreesOfFreedom = parts?.[2] === "Infinity" ? Number.POSITIVE_INFINITY : parseDecimal(parts?.[2] ?? "");
  if (!parts || degreesOfFreedom === undefined) unclear(lines, key, found, "0.6 µm with 9 degrees of freedom");
  said.repeatability = {
    standardDeviation: quantityOf(lines, key, { value: parts[1]!, line: found.line }, "length"),
    degreesOfFreedom,
  };
}

function readWords(
  lines: PreambleLines,
  said: { [field: string]: unknown },
  key: string,
  field: string,
  words: { readonly [word: string]: string },
): void {
  const found = lines.take(key);
  if (!found) return;
  if (!Object.hasOwn(words, found.value)) unclear(lines, key, found, Object.keys(words).join('" or "'));
  said[field] = words[found.value];
}

function unclear(lines: PreambleLines, key: string, found: { value: string; line: number }, example: string): never {
  return refuseSheet(
    "gauge",
    { name: lines.name, line: found.line },
    `"# ${key}: ${found.value}" is not understood; write "${example}"`,
  );
}

function needAgreement(name: string, field: string, onSheet: unknown, inCode: unknown): void {
  if (onSheet === undefined || inCode === undefined || same(onSheet, inCode)) return;
  // a gauge made in code without a name is called "gauge"
  if (field === "name" && inCode === "gauge") return;
  refuseSheet(
    "said-twice",
    { name },
    `the sheet says ${field} of the gauge is ${text(onSheet)} and the code says ${text(inCode)}; make the two agree, or leave it out of the code`,
  );
}

function same(a: unknown, b: unknown): boolean {
  if (a instanceof Quantity && b instanceof Quantity) return Math.abs(a.si - b.si) <= 1e-12 * Math.abs(a.si);
  if (isRepeatability(a) && isRepeatability(b)) {
    return same(a.standardDeviation, b.standardDeviation) && a.degreesOfFreedom === b.degreesOfFreedom;
  }
  return a === b;
}

function text(value: unknown): string {
  if (!isRepeatability(value)) return String(value);
  return `${value.standardDeviation} with ${value.degreesOfFreedom} degrees of freedom`;
}

function isRepeatability(value: unknown): value is Repeatability {
  return typeof value === "object" && !(value instanceof Quantity);
}

/** a quantity with its unit in as few digits as give the very same value back */
export function exactText(kind: Kind, si: number): string {
  for (const [name, unit] of Object.entries(units[kind]) as [string, Unit][]) {
    for (const digits of [6, 12, 15, 16, 17]) {
      const value = Number(inUnit(unit, si).toPrecision(digits));
      if (toSi(unit, value) === si && (value === 0 || Math.abs(value) >= 1e-3)) return `${value} ${name}`;
    }
  }
  const [name] = (Object.entries(units[kind]) as [string, Unit][]).find(([, unit]) => toSi(unit, 1) === 1)!;
  return `${si} ${name}`;
}
