import { type DataFrameLike, sheetOfFrame } from "./data-frame.js";
import type { ParseOptions } from "./parse-sheet.js";
import { Survey } from "./survey.js";

/**
 * A survey from a danfojs data frame, whose columns are headed like those of a sheet: place, x/mm, y/mm, z/um, pass.
 * A missing value is a blank cell. A frame holds no frame and no gauge: they come from the options, or from a survey
 * that this one is like.
 *
 * @throws MeasurementError `data-frame`, and all that `parseSurvey` refuses
 * @example
 * (() => { try { survey.fromDataFrame({ columns: ["place"], values: [["A1"]], shape: [1, 1] }); } catch (error) { return error.code; } })() // => "heading"
 */
export function fromDataFrame(frame: DataFrameLike, options: ParseOptions & { readonly like?: Survey } = {}): Survey {
  const { like, ...stated } = options;
  return like ? like.withRows(frame, stated) : Survey.fromSheet(sheetOfFrame(frame, stated, undefined));
}
