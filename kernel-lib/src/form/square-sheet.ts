import { um } from "../quantity/index.js";
import type { CellRow } from "../survey/cells.js";
import { readSheetFile } from "../survey/files.js";
import { HeadedSheet } from "../survey/headed-sheet.js";
import type { Gauge, SheetFile } from "../survey/index.js";
import { mergeGauge } from "../survey/preamble-gauge.js";
import { quantityOf } from "../survey/preamble-lines.js";
import { refuseSheet, shown } from "../survey/sheet-error.js";
import type { LegReading, SquarenessGiven } from "./squareness.js";

const columns = { leg: "word", way: "word", at: "length", reading: "length", note: "word" } as const;
const legs = ["first", "second"] as const;
const ways = ["as laid", "turned over"] as const;

/** How a sheet of a square is read. */
export interface SquareSheetOptions {
  /** in messages; the title on the sheet ("Y to X") wins where the result is shown */
  readonly name?: string;
  /** where the sheet does not say it */
  readonly gauge?: Gauge;
  /** the file that the text came from */
  readonly file?: SheetFile;
}

/**
 * Readings along the legs of a square from the text of a sheet, a reading a row: `leg,way,at/mm,reading/um`; `leg` is first or
 * second, `way` is `as laid` or `turned over`. Above the heading stand the gauge and, where the square was not turned over,
 * `# square within: 5 arcsec`. Signs as `squareness` says: positive where the leg bends counter-clockwise off the motion.
 *
 * @throws MeasurementError that names line and column; `leg`, `way`, `not-a-number`, `blank`
 * @see `squareness`, which refuses a leg of fewer than three places and a square neither known nor turned over
 * @example
 * const head = ["title: Y to X", "gauge resolution: 1 µm", "gauge maximum permissible error: 2 µm", "square within: 2 arcsec"];
 * const rows = ["first", "second"].flatMap((leg) => [0, 100, 200].map((at) => `${leg},as laid,${at},${leg === "first" ? 0 : -at / 50}`));
 * form.squareness(form.parseSquare([...head.map((said) => `# ${said}`), "leg,way,at/mm,reading/um", ...rows].join("\n"))).angle.in("um/m").toFixed(1) // => "20.0"
 */
export function parseSquare(text: string, options: SquareSheetOptions = {}): SquarenessGiven {
  const name = options.name ?? "pasted square";
  const sheet = new HeadedSheet(text, name, columns);
  const { lines } = sheet;
  sheet.need(["leg", "way", "at", "reading"], "leg,way,at/mm,reading/um");
  const title = lines.takeText("title");
  const gauge = mergeGauge(lines, options.gauge);
  const within = lines.take("square within");
  const square = within && { within: quantityOf(lines, "square within", within, "slope") };
  const of = (leg: string, way: string): LegReading[] =>
    sheet.rows
      .filter((row) => one(sheet, row, "leg", legs) === leg && one(sheet, row, "way", ways) === way)
      .map((row) => ({ at: um(sheet.lengthUm(row, "at")), reading: um(sheet.lengthUm(row, "reading")) }));
  const [first, second] = [of("first", "as laid"), of("second", "as laid")];
  const turned = { first: of("first", "turned over"), second: of("second", "turned over") };
  const isTurned = turned.first.length + turned.second.length > 0;
  const notes = [...lines.left().map(([key, value]) => `${key}: ${value}`), ...lines.notes];
  return {
    name: title ?? name,
    gauge,
    first,
    second,
    ...(isTurned && { turnedOver: turned }),
    ...(square && { square }),
    notes,
    file: options.file,
  };
}

/**
 * Readings along the legs of a square from a sheet on the disk; a relative path starts from the folder of the notebook.
 *
 * @throws MeasurementError `no-such-file`, and all that `parseSquare` refuses
 * @example
 * form.squareness(form.readSquare("data/square-y-to-x.csv")).angle.in("um/m") > 20 // => true
 */
export function readSquare(path: string, options: Omit<SquareSheetOptions, "file"> = {}): SquarenessGiven {
  const { source, ...file } = readSheetFile(path);
  return parseSquare(source.text(), { name: file.name, file, ...options });
}

function one(sheet: HeadedSheet, row: CellRow, column: "leg" | "way", words: readonly string[]): string {
  const word = sheet.text(row, column).toLowerCase();
  if (words.includes(word)) return word;
  return refuseSheet(
    column,
    { name: sheet.name, line: row.line, column },
    `${shown(word)} is no ${column} of a square; write ${words.join(" or ")}`,
  );
}
