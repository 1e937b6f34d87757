import { positioning, readPositioning, readSmallMoves } from "../axis/index.js";
import { levelNetwork, readLevels, readSquare, readSweep, spindleTram, squareness } from "../form/index.js";
import { readWarmUp } from "../heat/index.js";
import { cutCells } from "../survey/cells.js";
import { readSheetFile } from "../survey/files.js";
import { readGaugeStudy, readSurvey } from "../survey/index.js";

/** What a sheet says, in lines of text. */
export interface SheetWords {
  readonly lines: readonly string[];
  /** something in it misleads every figure made of it */
  readonly stop: boolean;
}

type Said = { readonly notes?: readonly string[]; toString(): string };

/** Sheets other than that of a survey: a heading that they have and a survey has not, and what is made of them. */
const others: readonly (readonly [column: string, kind: string, made: (path: string) => Said])[] = [
  ["target", "positioning test", (path) => positioning(readPositioning(path))],
  ["commanded", "small moves", readSmallMoves],
  ["angle", "sweep of the spindle", (path) => spindleTram(readSweep(path))],
  ["leg", "square", (path) => squareness(readSquare(path))],
  ["line", "levels", (path) => levelNetwork(readLevels(path))],
  ["repeat", "trial of a gauge", readGaugeStudy],
];

/** a record of the warm-up has columns of any name, and a time that belongs to no place */
const warmUp: (typeof others)[number] = ["time", "warm-up", readWarmUp];

/**
 * Reads a sheet of any kind, told by its headings, and says what is understood.
 *
 * @param page of a workbook with several
 * @throws MeasurementError whatever the reader of that kind of sheet refuses
 */
export function sheetWords(path: string, page?: string): SheetWords {
  const columns = headings(path, page);
  const isTimed = columns.includes("time") && !columns.includes("place") && !columns.includes("x");
  const other = others.find(([column]) => columns.includes(column)) ?? (isTimed ? warmUp : undefined);
  if (other) {
    const [, kind, made] = other;
    const found = made(path);
    return { lines: [`${kind}: ${found}`, ...notes(found)], stop: false };
  }
  const survey = readSurvey(path, page === undefined ? {} : { sheet: page });
  const health = survey.health();
  return { lines: [`${survey}`, `${health}`], stop: health.findings.some(({ severity }) => severity === "stop") };
}

function notes({ notes: said = [] }: Said): string[] {
  return said.map((note) => `note: ${note}`);
}

/** names of the columns, without their units */
function headings(path: string, page: string | undefined): readonly string[] {
  const { name, source } = readSheetFile(path, undefined, page);
  const [heading] = cutCells(source.text(), name).table;
  return heading!.cells.map((cell) => cell.split("/")[0]!.trim().toLowerCase());
}
