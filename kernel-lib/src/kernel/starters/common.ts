import type { Paper } from "../../display/blank-sheet-style.js";
import type { UnitSystem } from "../../quantity/kinds.js";
import type { Gauge } from "../../survey/index.js";
import { gaugeLines } from "../../survey/preamble-gauge.js";
import { gaugeOf, nameOf, oneOf, type StarterAnswers, words } from "./answers.js";

/** What every starter knows of the machine and the gauge. */
export interface Common {
  /** of the files, without an ending */
  readonly name: string;
  readonly machine: string;
  readonly workshop?: string;
  readonly gauge: Gauge;
  /** lines of the sheet as the reader wrote them: "gauge resolution" → "0.0005 in" */
  readonly asWritten: { readonly [line: string]: string };
  readonly units: UnitSystem;
  /** unit of the readings to be written */
  readonly zUnit: "um" | "thou" | "tenth";
  readonly paper: Paper;
}

/** @param inch whether what was typed speaks in inches, where the units are not said */
export function commonOf(answers: StarterAnswers, inch: boolean): Common {
  const units = oneOf("units", answers.units ?? (inch ? "inch" : "metric"), ["metric", "inch"]);
  return {
    name: nameOf(answers.name),
    machine: words("machine", answers.machine ?? "my machine"),
    ...(answers.workshop !== undefined && { workshop: words("workshop", answers.workshop) }),
    gauge: gaugeOf(answers),
    asWritten: {
      "gauge resolution": answers.resolution.trim(),
      "gauge maximum permissible error": answers.error.trim(),
      ...(answers["per-turn"] !== undefined && { "gauge range per turn": answers["per-turn"].trim() }),
      ...(answers.hysteresis !== undefined && { "gauge hysteresis": answers.hysteresis.trim() }),
    },
    units,
    zUnit: oneOf("heights", answers.heights ?? (units === "inch" ? "thou" : "um"), ["um", "thou", "tenth"]),
    paper: oneOf("paper", answers.paper ?? (units === "inch" ? "Letter" : "A4"), ["A4", "Letter"]),
  };
}

/** A line above the heading of a sheet; one without a value is to be filled in. */
export type SheetLine = readonly [key: string, value?: string | undefined];

/** What every sheet begins with: whose it is, when, and the gauge in the reader's own words and units. */
export function openingLines({ machine, workshop, gauge, asWritten }: Common, title: string): readonly SheetLine[] {
  return [
    ["title", title],
    ["workshop", workshop],
    ["machine", machine],
    ["date"],
    ["measured by"],
    ...gaugeLines(gauge).map(([key, value]): SheetLine => [key, asWritten[key] ?? value]),
  ];
}

/** A sheet to fill in, as text. */
export function openSheet(
  lines: readonly SheetLine[],
  heading: readonly string[],
  rows: readonly (readonly (string | number)[])[],
): string {
  return [...lines.map(lineText), heading.join(","), ...rows.map((row) => row.join(",")), ""].join("\n");
}

export function lineText([key, value]: SheetLine): string {
  return value === undefined ? `# ${key}:` : `# ${key}: ${value}`;
}

/** as it is printed in a heading on paper */
export function unitOnPaper(unit: string): string {
  return unit === "um" ? "µm" : unit;
}
