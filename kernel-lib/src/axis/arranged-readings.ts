import { MeasurementError } from "../measurement-error.js";
import { median } from "../numerics/index.js";
import { printNumber } from "../quantity/print.js";
import { counted } from "../words.js";

/** One reading on plain numbers, in the order in which it was taken. */
export interface PlainReading {
  readonly targetMm: number;
  readonly direction: "up" | "down";
  readonly run: number;
  /** actual − target */
  readonly deviationUm: number;
  readonly minutes?: number;
  readonly celsius?: number;
}

/** The readings as a full table. */
export interface ArrangedReadings {
  /** rising */
  readonly targetsMm: readonly number[];
  readonly runs: readonly number[];
  /** by direction, target, run: which reading it is */
  readonly at: { readonly up: readonly (readonly number[])[]; readonly down: readonly (readonly number[])[] };
}

/** "test X" or "positioning-x.csv line 31": where a reading stands */
export type Whereabouts = (reading: number) => string;

const directions = ["up", "down"] as const;

/** Sorts readings into targets, directions and runs; whatever is missing or out of its order is named. */
export function arrangeReadings(readings: readonly PlainReading[], name: string, where: Whereabouts): ArrangedReadings {
  const runs = [...new Set(readings.map(({ run }) => run))];
  const targetsMm = [...new Set(readings.map(({ targetMm }) => targetMm))].sort((a, b) => a - b);
  needBoth(readings, name);
  needOrder(readings, where);
  const column = new Map(targetsMm.map((target, i) => [target, i]));
  const cells = () => targetsMm.map((): number[] => []);
  const at = { up: cells(), down: cells() };
  readings.forEach(({ targetMm, direction }, i) => {
    at[direction][column.get(targetMm)!]!.push(i);
  });
  needEqualRuns(at, targetsMm, runs.length, name);
  if (runs.length < 2) {
    refuse("single-run", name, "there is one run; a scatter needs two at least each way, the standard asks for five");
  }
  if (targetsMm.length < 2) {
    refuse(
      "one-target",
      name,
      `there is one target, ${targetsMm[0]} mm; an axis needs two at least, five for each metre`,
    );
  }
  return { targetsMm, runs, at };
}

function needBoth(readings: readonly PlainReading[], name: string): void {
  for (const direction of directions) {
    if (readings.some((reading) => reading.direction === direction)) continue;
    const other = direction === "up" ? "downwards" : "upwards";
    refuse(
      "one-direction",
      name,
      `all ${readings.length} readings were approached ${other}; read every target from the other side too, as lost motion shows in no other way`,
    );
  }
}

/** within a run the targets must rise on the way up and fall on the way down: otherwise the approach is not what is said */
function needOrder(readings: readonly PlainReading[], where: Whereabouts): void {
  const last = new Map<string, PlainReading>();
  readings.forEach((reading, i) => {
    const { run, direction, targetMm } = reading;
    const series = `${run} ${direction}`;
    const before = last.get(series);
    last.set(series, reading);
    if (before === undefined) return;
    const step = (targetMm - before.targetMm) * (direction === "up" ? 1 : -1);
    if (step > 0) return;
    const course = direction === "up" ? "rise on the way up" : "fall on the way down";
    refuse(
      "targets-out-of-order",
      where(i),
      `target ${targetMm} mm comes after ${before.targetMm} mm in run ${run}, ${direction}; targets must ${course}, or the approach is not what the sheet says`,
    );
  });
}

function needEqualRuns(at: ArrangedReadings["at"], targetsMm: readonly number[], runs: number, name: string): void {
  for (const direction of directions) {
    const short = at[direction].findIndex((cell) => cell.length !== runs);
    if (short < 0) continue;
    refuse(
      "unequal-runs",
      name,
      `target ${targetsMm[short]} mm has ${counted(at[direction][short]!.length, "reading")} ${direction} and there are ${runs} runs; read what is missing, or leave the run out everywhere`,
    );
  }
}

/** Readings that stand a whole turn of the pointer off the others of their target and direction. */
export function needNoMissedTurn(
  readings: readonly PlainReading[],
  { at, targetsMm }: ArrangedReadings,
  turnUm: number,
  where: Whereabouts,
): void {
  for (const direction of directions) {
    at[direction].forEach((cell, k) => {
      const values = cell.map((i) => readings[i]!.deviationUm);
      // the lower of the middle two where the count is even: a mean of them would stand half a turn off
      const middle =
        values.length % 2 === 1 ? median(values) : [...values].sort((a, b) => a - b)[values.length / 2 - 1]!;
      values.forEach((value, j) => {
        const turns = Math.round((value - middle) / turnUm);
        if (turns === 0 || Math.abs(value - middle - turns * turnUm) > turnUm / 4) return;
        refuse(
          "rolled-over",
          where(cell[j]!),
          `${printNumber(value)} µm at ${targetsMm[k]} mm, ${direction}, stands about ${turns === 1 || turns === -1 ? "one turn" : `${Math.abs(turns)} turns`} of the pointer (${printNumber(turnUm)} µm each) from ${printNumber(middle)} µm of another run; the small hand was missed in one of them: read it again, or write the whole reading`,
        );
      });
    });
  }
}

function refuse(code: string, where: string, sentence: string): never {
  throw new MeasurementError(code, `${where}: ${sentence}`);
}
