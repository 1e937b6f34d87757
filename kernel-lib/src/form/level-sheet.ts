import { Quantity, type Slope, umPerM } from "../quantity/index.js";
import { parseDecimal } from "../quantity/parse.js";
import type { CellRow } from "../survey/cells.js";
import { readSheetFile } from "../survey/files.js";
import { HeadedSheet } from "../survey/headed-sheet.js";
import type { SheetFile } from "../survey/index.js";
import { readFrame } from "../survey/preamble-frame.js";
import { type PreambleLines, quantityOf } from "../survey/preamble-lines.js";
import { refuseSheet, shown } from "../survey/sheet-error.js";
import type { LevelInstrument, LevelSurvey } from "./level-reading.js";
import { type LevelRun, levelRuns } from "./level-runs.js";

const columns = { line: "word", step: "word", direction: "word", reading: "slope", note: "word" } as const;

/** How a level sheet is read. */
export interface LevelSheetOptions {
  /** in messages; the title on the sheet wins where the survey is shown */
  readonly name?: string;
  /** the file that the text came from */
  readonly file?: SheetFile;
}

/**
 * A level survey from the text of a sheet, a reading a row: `line,step,direction,reading/um/m`.
 *
 * Steps of a line are numbered from 1 at its start; `direction` is `as marked`, or `turned` for the level end for end, written
 * as it reads then. Readings stand in `um/m`, `mm/m`, `arcsec`, or `div` with `# division: 20 um/m` above. Above the heading stand
 * the frame, `# level resolution:`, `# level maximum permissible error:`, `# foot: 100 mm`, and for each line its ends in mm,
 * `# line front: 0, 0 to 400, 0`. Each step of a line is read once a direction.
 *
 * @throws MeasurementError that names line and column; `said`, `line`, `step`, `direction`, `step-twice`, `step-missing`,
 *   `division`, and all that `levelRuns` refuses
 * @example
 * const head = ["relative to: gravity", "front: y-", "+x: right", "+y: back", "foot: 100 mm", "division: 20 um/m", "line a: 0, 0 to 200, 0"];
 * const level = ["level resolution: 2 um/m", "level maximum permissible error: 5 um/m"];
 * const text = [...[...head, ...level].map((said) => `# ${said}`), "line,step,direction,reading/div", "a,1,as marked,1", "a,2,as marked,2"].join("\n");
 * form.parseLevels(text).readings.map((one) => one.inclination.in("um/m").toFixed(0)).join() // => "20,40"
 */
export function parseLevels(text: string, options: LevelSheetOptions = {}): LevelSurvey {
  const name = options.name ?? "pasted survey";
  const sheet = new HeadedSheet(text, name, columns);
  const { lines } = sheet;
  sheet.need(["line", "step", "direction", "reading"], "line,step,direction,reading/um/m");
  const frame = readFrame(lines, undefined);
  const instrument = instrumentOf(lines);
  const foot = quantityOf(lines, "foot", said(lines, "foot", "100 mm"), "length");
  if (!(foot.in("mm") > 0)) {
    refuseSheet(
      "foot",
      { name },
      `a foot of ${foot.text("mm")} steps off no line; write the distance of the level's feet`,
    );
  }
  const unit = unitSize(sheet);
  const runs = lines.keysFrom("line").map((key) => runOf(sheet, key, foot, unit));
  needKnownLines(sheet, runs);
  const title = lines.takeText("title");
  const notes = [...lines.left().map(([key, value]) => `${key}: ${value}`), ...lines.notes];
  return { name: title ?? name, frame, instrument, ...levelRuns(runs), notes, file: options.file };
}

/**
 * A level survey from a sheet on the disk; a relative path starts from the folder of the notebook.
 *
 * @throws MeasurementError `no-such-file`, and all that `parseLevels` refuses
 * @example
 * typeof form.readLevels // => "function"
 */
export function readLevels(path: string, options: LevelSheetOptions = {}): LevelSurvey {
  const { source, ...file } = readSheetFile(path);
  return parseLevels(source.text(), { name: file.name, file, ...options });
}

function said(lines: PreambleLines, key: string, example: string) {
  const found = lines.take(key);
  if (found !== undefined) return found;
  return refuseSheet("said", { name: lines.name }, `the sheet does not say its ${key}; write "# ${key}: ${example}"`);
}

function instrumentOf(lines: PreambleLines): LevelInstrument {
  const slope = (key: string, example: string) => quantityOf(lines, key, said(lines, key, example), "slope");
  const name = lines.takeText("level");
  return {
    ...(name === undefined ? {} : { name }),
    resolution: slope("level resolution", "10 um/m"),
    maximumPermissibleError: slope("level maximum permissible error", "20 um/m"),
  };
}

/** what one unit of the readings is */
function unitSize(sheet: HeadedSheet): Slope {
  const unit = sheet.unit("reading");
  if (unit !== "div") return Quantity.parse("slope", `1 ${unit}`);
  const division = sheet.lines.take("division");
  if (division !== undefined) return quantityOf(sheet.lines, "division", division, "slope");
  return refuseSheet(
    "division",
    { name: sheet.name },
    'readings are in divisions of no stated value; write "# division: 20 um/m" as it stands on the level',
  );
}

function runOf(sheet: HeadedSheet, key: string, foot: LevelRun["foot"], unit: Slope): LevelRun {
  const { name, lines } = sheet;
  const { value, line: at, written } = lines.take(key)!;
  const line = written.slice("line".length).trim();
  const ends = /^(\S+), *(\S+) to (\S+), *(\S+?)(?: *mm)?$/.exec(value)?.slice(1).map(parseDecimal) ?? [];
  const [x, y, toX, toY] = ends;
  if (x === undefined || y === undefined || toX === undefined || toY === undefined) {
    refuseSheet(
      "line",
      { name, line: at },
      `${shown(value)} is not two ends of a line; write "# ${written}: 0, 0 to 400, 0", x and y in mm`,
    );
  }
  const [start, end] = [
    { xMm: x, yMm: y },
    { xMm: toX, yMm: toY },
  ];
  const count = Math.round(Math.hypot(toX - x, toY - y) / foot.in("mm"));
  const rows = sheet.rows.filter((row) => sheet.text(row, "line") === line);
  const isTurned = (row: CellRow) => directionOf(sheet, row) === "turned";
  const readings = stepsOf(
    sheet,
    rows.filter((row) => !isTurned(row)),
    { line, count, how: "as marked" },
    unit,
  );
  const back = rows.filter(isTurned);
  const turned = back.length > 0 && { turned: stepsOf(sheet, back, { line, count, how: "turned" }, unit) };
  return { line, start, end, foot, readings, ...turned };
}

interface Wanted {
  readonly line: string;
  readonly count: number;
  readonly how: string;
}

/** readings of one line and direction in the order of its steps */
function stepsOf(sheet: HeadedSheet, rows: readonly CellRow[], { line, count, how }: Wanted, unit: Slope): Slope[] {
  const { name } = sheet;
  const found = new Map<number, Slope>();
  for (const row of rows) {
    const text = sheet.text(row, "step");
    const spot = { name, line: row.line, column: "step" };
    const step = /^\d{1,4}$/.test(text) ? Number(text) : 0;
    if (!(step >= 1 && step <= count)) {
      refuseSheet("step", spot, `${shown(text)} is no step of line "${line}"; number its steps from 1 to ${count}`);
    }
    if (found.has(step)) {
      refuseSheet("step-twice", spot, `step ${step} of line "${line}" is read ${how} twice; leave one of the two`);
    }
    found.set(step, umPerM(numberOf(sheet, row) * unit.in("um/m")));
  }
  return Array.from({ length: count }, (_, i) => {
    const reading = found.get(i + 1);
    if (reading !== undefined) return reading;
    return refuseSheet("step-missing", { name }, `step ${i + 1} of line "${line}" is not read ${how}; read it`);
  });
}

function numberOf(sheet: HeadedSheet, row: CellRow): number {
  const text = sheet.text(row, "reading");
  const spot = { name: sheet.name, line: row.line, column: sheet.heading("reading") };
  return (
    parseDecimal(text) ??
    refuseSheet(
      "not-a-number",
      spot,
      `${shown(text)} is not a number; type digits only, the unit stands in the heading`,
    )
  );
}

function directionOf(sheet: HeadedSheet, row: CellRow): "as marked" | "turned" {
  const word = sheet.text(row, "direction").toLowerCase();
  if (word === "as marked" || word === "turned") return word;
  return refuseSheet(
    "direction",
    { name: sheet.name, line: row.line, column: "direction" },
    `${shown(word)} is no direction of the level; write as marked, or turned for end for end`,
  );
}

function needKnownLines(sheet: HeadedSheet, runs: readonly LevelRun[]): void {
  for (const row of sheet.rows) {
    const line = sheet.text(row, "line");
    if (runs.some((run) => run.line === line)) continue;
    refuseSheet(
      "line",
      { name: sheet.name, line: row.line, column: "line" },
      `the ends of line ${shown(line)} are not said; write "# line ${line}: 0, 0 to 400, 0" above the heading, x and y in mm`,
    );
  }
}
