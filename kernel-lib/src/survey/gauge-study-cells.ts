import { MeasurementError } from "../measurement-error.js";
import { type Length, Quantity } from "../quantity/index.js";
import { counted } from "../words.js";

/** One reading of a gauge study. */
export interface StudyReading {
  /** the part that was read; in a shed a place of the table, a gauge block, a shim */
  readonly part: string;
  /** who read it; in a shed the day or the set-up. Left out throughout where there was one only */
  readonly operator?: string;
  readonly value: Length;
}

/** The readings of a study as a full table: every part by every operator, equally often. */
export interface StudyCells {
  readonly parts: readonly string[];
  readonly operators: readonly string[];
  readonly repeats: number;
  /** in µm; parts slowest, repeats quickest */
  readonly valuesUm: readonly number[];
}

/** What the two ways of a study are called: parts are often places, operators often days. */
export interface StudyWords {
  readonly part: string;
  readonly operator: string;
}

/** Sorts readings into their cells; a cell that is missing or short is named. */
export function studyCells(readings: readonly StudyReading[], words: StudyWords): StudyCells {
  const cells = new Map<string, Map<string, number[]>>();
  const operators = new Set<string>();
  readings.forEach((reading, i) => {
    const { part, operator, um } = checked(reading, i, words);
    operators.add(operator);
    const row = cells.get(part) ?? new Map<string, number[]>();
    cells.set(part, row);
    row.set(operator, [...(row.get(operator) ?? []), um]);
  });
  const parts = [...cells.keys()];
  const counts = parts.flatMap((part) => [...operators].map((operator) => cells.get(part)!.get(operator)?.length ?? 0));
  const repeats = Math.max(0, ...counts);
  const short = counts.findIndex((count) => count < repeats);
  if (short >= 0) {
    const part = parts[Math.floor(short / operators.size)]!;
    const operator = [...operators][short % operators.size]!;
    const by = operator === "" ? "" : ` by ${words.operator} ${operator}`;
    refuse(
      "study-unbalanced",
      `${words.part} ${part} has ${counted(counts[short]!, "reading")}${by} and other cells have ${repeats}; read what is missing, or take as many out of every cell`,
    );
  }
  needEnough(parts.length, repeats, words);
  const valuesUm = parts.flatMap((part) => [...operators].flatMap((operator) => cells.get(part)!.get(operator)!));
  if (valuesUm.every((value) => value === valuesUm[0])) {
    refuse(
      "study-flat",
      `all ${valuesUm.length} readings are the same; read with a finer gauge, or choose ${words.part}s that differ`,
    );
  }
  return { parts, operators: [...operators], repeats, valuesUm };
}

function checked(reading: StudyReading, i: number, words: StudyWords): { part: string; operator: string; um: number } {
  const { part, operator = "", value } = reading;
  if (typeof part !== "string" || part.trim() === "") {
    refuse("study-reading", `reading ${i + 1} does not say which ${words.part} it is of; give part: "C4"`);
  }
  if (!(value instanceof Quantity && value.kind === "length")) {
    refuse(
      "study-reading",
      `reading ${i + 1}, ${words.part} ${part}: ${String(value)} is not a length; give one such as um(3)`,
    );
  }
  return { part, operator, um: value.in("um") };
}

function needEnough(parts: number, repeats: number, words: StudyWords): void {
  if (parts >= 2 && repeats >= 2) return;
  const given = parts < 2 ? counted(parts, words.part) : `${repeats} reading in each cell`;
  refuse(
    "study-too-small",
    `${given}; at least 2 ${words.part}s and 2 readings in each cell are needed, 10 and 3 are usual`,
  );
}

export function refuse(code: string, sentence: string): never {
  throw new MeasurementError(code, `gaugeStudy: ${sentence}`);
}
