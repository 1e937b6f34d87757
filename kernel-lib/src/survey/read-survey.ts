import { readSheetFile } from "./files.js";
import { type ParseOptions, parseSheet } from "./parse-sheet.js";
import { Survey } from "./survey.js";

export interface ReadOptions extends ParseOptions {
  /** refuse a closed sheet that was changed, instead of reading it and saying so */
  readonly strict?: boolean;
  /** of an .xlsx workbook with several sheets: the one to read */
  readonly sheet?: string;
}

/**
 * Reads a survey from a sheet on the disk, a text or one sheet of an .xlsx workbook; a relative path starts from the working folder, which in a notebook is the folder of the notebook.
 *
 * @throws MeasurementError `no-such-file`, `closed-sheet-changed` (strict), and all that `parseSurvey` refuses
 * @example
 * readSurvey("data/plate-faced.csv").places.length // => 50
 */
export function readSurvey(path: string, options: ReadOptions = {}): Survey {
  const { strict, sheet, ...stated } = options;
  const { source, ...file } = readSheetFile(path, strict, sheet);
  return Survey.fromSheet(parseSheet(source, { name: file.name, ...stated }), file);
}
