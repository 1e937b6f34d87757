import { Quantity, type Slope } from "../quantity/index.js";
import { readSheetFile } from "../survey/files.js";
import { HeadedSheet } from "../survey/headed-sheet.js";
import type { SheetFile } from "../survey/index.js";
import { readFrame } from "../survey/preamble-frame.js";
import { type PreambleLines, quantityOf } from "../survey/preamble-lines.js";
import { refuseSheet } from "../survey/sheet-error.js";
import type { LevelInstrument, LevelSurvey, LevelZero } from "./level-reading.js";
import { readingsOfLines } from "./level-sheet-lines.js";
import { readingsOfPlaces } from "./level-sheet-places.js";

const columns = {
  line: "word",
  step: "word",
  direction: "word",
  from: "word",
  to: "word",
  reading: "slope",
  note: "word",
} as const;
const zeros: readonly LevelZero[] = ["one", "a line", "a line, drifting"];

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
 * the frame, `# level resolution:`, `# level maximum permissible error:`, `# foot: 100 mm` (or `# foot of line front: 80 mm`),
 * and for each line its ends in mm, `# line front: 0, 0 to 400, 0`. Each step of a line is read once a direction.
 *
 * A sheet of any other layout has the heading `from,to,reading/um/m` (and `line`, where the zero is one of each line), above
 * it each place as `# place A1: 0, 0`; turned end for end, the level stands from `to` to `from`.
 * `# level zero: a line` makes the zero of each line an unknown of its own, `a line, drifting` its drift too.
 *
 * @throws MeasurementError that names line and column; `said`, `line`, `step`, `direction`, `step-twice`, `step-missing`,
 *   `division`, `foot`, `place`, `zero`, and all that `levelRuns` refuses
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
  const byPlaces = sheet.has("from") || sheet.has("to");
  if (byPlaces) sheet.need(["from", "to", "reading"], "from,to,reading/um/m");
  else sheet.need(["line", "step", "direction", "reading"], "line,step,direction,reading/um/m");
  const frame = readFrame(lines, undefined);
  const instrument = instrumentOf(lines);
  const zero = zeroOf(lines);
  const unit = unitSize(sheet);
  const read = byPlaces ? readingsOfPlaces(sheet, unit) : readingsOfLines(sheet, unit);
  const title = lines.takeText("title");
  const notes = [...lines.left().map(([key, value]) => `${key}: ${value}`), ...lines.notes];
  return { name: title ?? name, frame, instrument, ...(zero && { zero }), ...read, notes, file: options.file };
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

function zeroOf(lines: PreambleLines): LevelZero | undefined {
  const found = lines.take("level zero");
  if (found === undefined) return undefined;
  const zero = zeros.find((word) => word === found.value.toLowerCase());
  if (zero !== undefined) return zero;
  return refuseSheet(
    "zero",
    { name: lines.name, line: found.line },
    `"# level zero: ${found.value}" is not known; write one, a line, or a line, drifting`,
  );
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
