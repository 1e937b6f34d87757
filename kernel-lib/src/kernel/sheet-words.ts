import { parsePositioning, parseSmallMoves, positioning } from "../axis/index.js";
import { levelNetwork, parseLevels, parseSquare, parseSweep, spindleTram, squareness } from "../form/index.js";
import { parseWarmUp } from "../heat/index.js";
import { cutCells } from "../survey/cells.js";
import { readSheetFile } from "../survey/files.js";
import { parseGaugeStudy, readSurvey } from "../survey/index.js";

/** What a sheet says, in lines of text. */
export interface SheetWords {
  readonly lines: readonly string[];
  /** something in it misleads every figure made of it */
  readonly stop: boolean;
}

type Said = { readonly notes?: readonly string[]; toString(): string };

type Named = { readonly name: string };
type Other = readonly [column: string, kind: string, made: (text: string, named: Named) => Said];

/** Sheets other than that of a survey: a heading that they have and a survey has not, and what is made of them. */
const others: readonly Other[] = [
  ["target", "positioning test", (text, named) => positioning(parsePositioning(text, named))],
  ["commanded", "small moves", parseSmallMoves],
  ["angle", "sweep of the spindle", (text, named) => spindleTram(parseSweep(text, named))],
  ["leg", "square", (text, named) => squareness(parseSquare(text, named))],
  ["line", "levels", (text, named) => levelNetwork(parseLevels(text, named))],
  ["value", "trial of a gauge", parseGaugeStudy],
];

/** a record of the warm-up has columns of any name, and a time that belongs to no place */
const warmUp: Other = ["time", "warm-up", parseWarmUp];

/**
 * Reads a sheet of any kind, told by its headings, and says what is understood.
 *
 * @param page of a workbook with several
 * @throws MeasurementError whatever the reader of that kind of sheet refuses
 */
export function sheetWords(path: string, page?: string): SheetWords {
  const { name, source } = readSheetFile(path, undefined, page);
  const other = otherWords(source.text(), name);
  if (other) return { lines: other, stop: false };
  const survey = readSurvey(path, page === undefined ? {} : { sheet: page });
  const health = survey.health();
  return { lines: [`${survey}`, `${health}`], stop: health.findings.some(({ severity }) => severity === "stop") };
}

/**
 * What a sheet that is none of a survey says, in lines of text; nothing for a survey.
 *
 * @throws MeasurementError whatever the reader of that kind of sheet refuses
 */
export function otherWords(text: string, name: string): readonly string[] | undefined {
  const other = otherOf(text, name);
  if (other === undefined) return undefined;
  const [, kind, made] = other;
  const found = made(text, { name });
  return [`${kind}: ${found}`, ...notes(found)];
}

/** whether a sheet is none of a survey, told by its headings */
export function isOther(text: string, name: string): boolean {
  return otherOf(text, name) !== undefined;
}

function otherOf(text: string, name: string): Other | undefined {
  const columns = headings(text, name);
  const isTimed = columns.includes("time") && !columns.includes("place") && !columns.includes("x");
  return others.find(([column]) => columns.includes(column)) ?? (isTimed ? warmUp : undefined);
}

function notes({ notes: said = [] }: Said): string[] {
  return said.map((note) => `note: ${note}`);
}

/** names of the columns, without their units */
function headings(text: string, name: string): readonly string[] {
  const [heading] = cutCells(text, name).table;
  return heading!.cells.map((cell) => cell.split("/")[0]!.trim().toLowerCase());
}
