import { findUnit, parseDecimal } from "../src/quantity/parse.js";
import { stepOf } from "../src/survey/gauge.js";
import { isDatum, micrometres } from "../src/survey/sheet.js";
import { shown } from "../src/survey/sheet-error.js";
import { groupOf, type SheetModel, type Spot } from "./sheet-model.js";
import { suspectTurn } from "./sheet-turn.js";

/** What becomes of a typed reading: it can be written, it is asked about first, or it cannot be written. */
export type Judged =
  | { readonly is: "taken"; readonly cell: string }
  | { readonly is: "asked"; readonly cell: string; readonly sentence: string }
  | { readonly is: "refused"; readonly sentence: string };

/** the readings of a sheet as numbers in the order of typing, in its unit of z; NaN where none stands */
export type Heights = ArrayLike<number>;

/**
 * Judges what was typed for a reading. Digits are kept as typed; a decimal comma or point is written as this sheet writes
 * it. What the gauge cannot have shown is asked about, and kept when the person says so.
 */
export function judge(typed: string, index: number, model: SheetModel, heights: Heights): Judged {
  const spot = model.spots[index]!;
  const text = typed.trim().replaceAll("−", "-");
  if (text === "") return { is: "taken", cell: "" };
  const value = parseDecimal(text);
  if (value === undefined) return { is: "refused", sentence: `${spot.place}: ${notANumber(text, model)}` };
  const cell = text.replace(/[.,]/, model.mark);
  const doubts = [
    beyondRange(value, index, model, heights),
    suspectTurn(value, index, model, heights),
    offSteps(value, text, model),
  ];
  const sentence = doubts.find((doubt) => doubt !== undefined);
  return sentence === undefined ? { is: "taken", cell } : { is: "asked", cell, sentence: `${spot.place}: ${sentence}` };
}

/** "µm" for the unit of the readings */
export function unitText({ units: { z } }: SheetModel): string {
  return z === "um" ? "µm" : z;
}

/** "C4, pass 1" or "datum 1, pass 2, 3rd reading" */
export function nameOf(spot: Spot): string {
  const { key, place } = spot;
  const nth = (JSON.parse(key) as [string, number, number])[2];
  const group = groupOf(spot);
  const name = group === "" ? place : `${place}, ${group}`;
  return isDatum(place) ? `${name}, reading ${nth}` : name;
}

function notANumber(text: string, model: SheetModel): string {
  const unit = unitText(model);
  const word = /^[+-]?[\d.,]+\s*([a-zµμ"″]+)$/iu.exec(text)?.[1];
  if (word !== undefined && findUnit("length", word)) {
    return `${shown(text)} brings a unit of its own; this column is in ${unit}, type digits only`;
  }
  if (/^[+-]?[\d.,' ]+$/.test(text)) {
    return `${shown(text)} can be read two ways; type one decimal comma or point and no separators of thousands`;
  }
  return `${shown(text)} is not a number; type digits in ${unit}, or leave it blank where nothing was probed`;
}

function beyondRange(value: number, index: number, model: SheetModel, heights: Heights): string | undefined {
  const range = model.gauge?.range?.in("um");
  if (range === undefined) return undefined;
  const perUnit = micrometres[model.units.z];
  let [low, high] = [value, value];
  for (let i = 0; i < heights.length; i++) {
    if (i === index || Number.isNaN(heights[i])) continue;
    low = Math.min(low, heights[i]!);
    high = Math.max(high, heights[i]!);
  }
  const extreme = value === low || value === high;
  const span = (high - low) * perUnit;
  const own = Math.abs(value) * perUnit;
  if (!(extreme && (span > range * (1 + 1e-9) || own > range * (1 + 1e-9)))) return undefined;
  const unit = unitText(model);
  const what =
    span > range * (1 + 1e-9) && own <= range
      ? `makes the readings span ${trim(high - low)} ${unit}`
      : "is more than the gauge shows";
  return `${trim(value)} ${unit} ${what}, its range is ${trim(range / perUnit)} ${unit}; look for a wrong unit or a slip of the pen`;
}

function offSteps(value: number, typed: string, model: SheetModel): string | undefined {
  if (!model.gauge) return undefined;
  const step = stepOf(model.gauge).in("um") / micrometres[model.units.z];
  const steps = value / step;
  if (Math.abs(steps - Math.round(steps)) <= 1e-6 * Math.max(1, Math.abs(steps))) return undefined;
  const unit = unitText(model);
  return `${typed} ${unit} is no whole step of ${trim(step)} ${unit}, as this gauge is read; type it again or keep it`;
}

/** a number in at most six digits */
export function trim(value: number): string {
  return String(Number(value.toPrecision(6)));
}
