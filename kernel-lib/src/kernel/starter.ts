import { blankSheet } from "../display/blank-sheet.js";
import { type Length, mm } from "../quantity/index.js";
import { plan, type Slot, type SurveyPlan } from "../survey/index.js";
import { notebookText } from "./notebook-file.js";
import { notebookOf, starterCells } from "./starter-notebook.js";
import type { Common } from "./starters/common.js";

/** What the reader said of the own machine and gauge. */
export interface StarterOptions extends Common {
  /** length along X and depth along Y of the table */
  readonly table: readonly [x: Length, y: Length];
  readonly pitch?: Length;
  readonly slots: readonly Slot[];
  readonly passes: number;
}

/** A new notebook with its sheet and the sheet of paper that goes with it. */
export interface Starter {
  readonly plan: SurveyPlan;
  readonly notebook: string;
  readonly sheet: string;
  /** a page to print */
  readonly paper: string;
}

/**
 * A survey of the reader's own table before anything is measured: a notebook that runs at once and says what to fill in,
 * the sheet to type the readings into, and the same on paper to take to the machine.
 */
export function starter(options: StarterOptions): Starter {
  const { machine, table, slots, gauge, zUnit, passes, paper } = options;
  const longest = Math.max(table[0].in("mm"), table[1].in("mm"));
  const planned = plan({
    title: `${machine}: the table as found`,
    table: { x: [mm(0), table[0]], y: [mm(0), table[1]] },
    pitch: options.pitch ?? mm(Math.max(10, 5 * Math.round(longest / 8 / 5))),
    slots,
    gauge,
    passes,
    zUnit,
    frame: { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" },
  });
  return {
    plan: planned,
    notebook: notebookText(notebookOf(starterCells(options))),
    sheet: sheetText(planned.toCsv(), options),
    paper: blankSheet(planned, { paper, units: options.units }).document,
  };
}

/** the sheet of the plan, with what the reader wrote in the reader's own words and units */
function sheetText(csv: string, { asWritten, machine, workshop, units }: StarterOptions): string {
  const said: { readonly [line: string]: string } = { machine, ...(workshop && { workshop }), ...asWritten };
  const lines = csv.split("\n").map((line) => {
    const key = /^# ([^:]+):/.exec(line)?.[1];
    return key !== undefined && said[key] !== undefined ? `# ${key}: ${said[key]}` : line;
  });
  return (units === "inch" ? lines.map(placeInInches) : lines).join("\n");
}

/** x and y of a row in inches, to a hundredth: a pencil cross is no finer; what the table is like to a ten-thousandth */
function placeInInches(line: string): string {
  if (/^# (?:table|travel|slot|hole|obstacle) /.test(line)) {
    return line.replace(/(\d+(?:\.\d+)?) mm/g, (_, given: string) => `${inches(given, 1e4)} in`);
  }
  const row = /^([^#,]+),([^,]+),([^,]+),(.*)$/.exec(line);
  if (row === null) return line;
  const [, label, x, y, rest] = row;
  if (x === "x/mm") return `${label},x/in,y/in,${rest}`;
  return `${label},${inches(x, 100)},${inches(y, 100)},${rest}`;
}

function inches(text = "", parts: number): string {
  return String(Math.round(mm(Number(text)).in("in") * parts) / parts);
}
