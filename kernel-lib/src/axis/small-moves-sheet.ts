import { um } from "../quantity/index.js";
import { readSheetFile } from "../survey/files.js";
import { HeadedSheet } from "../survey/headed-sheet.js";
import type { Gauge, SheetFile } from "../survey/index.js";
import { mergeGauge } from "../survey/preamble-gauge.js";
import { axisOf } from "./sheet-axis.js";
import { type SmallMoves, smallMoves } from "./small-moves.js";

/**
 * A ladder of small moves from the text of a sheet: heading `commanded/um,reading/um`, a row a rung in the order they were
 * taken; lines `# axis: X` and those of the gauge above it, `# pull: upward, 200 N` where an upward pull was kept.
 *
 * @throws MeasurementError that names line and column, and all that `smallMoves` refuses
 * @example
 * const rows = [0, 5, 10, 15, 10, 5, 0].map((at, i) => `${at},${i > 3 ? Math.min(15, at + 6) : at}`);
 * const head = ["# axis: X", "# gauge resolution: 1 µm", "# gauge maximum permissible error: 2 µm", "commanded/um,reading/um"];
 * axis.parseSmallMoves([...head, ...rows].join("\n")).play.in("um").toFixed(0) // => "6"
 */
export function parseSmallMoves(
  text: string,
  options: { readonly name?: string; readonly gauge?: Gauge; readonly file?: SheetFile } = {},
): SmallMoves {
  const name = options.name ?? "pasted ladder";
  const sheet = new HeadedSheet(text, name, { commanded: "length", reading: "length", note: "word" });
  const title = sheet.lines.takeText("title");
  const axis = axisOf(sheet.lines);
  const gauge = mergeGauge(sheet.lines, options.gauge);
  const underPull = sheet.lines.takeText("pull") !== undefined;
  sheet.need(["commanded", "reading"], "commanded/um,reading/um");
  return smallMoves({
    axis,
    gauge,
    underPull,
    file: options.file,
    name: title ?? name,
    commanded: sheet.rows.map((row) => um(sheet.lengthUm(row, "commanded"))),
    readings: sheet.rows.map((row) => um(sheet.lengthUm(row, "reading"))),
  });
}

/**
 * A ladder of small moves from a sheet on the disk.
 *
 * @throws MeasurementError `no-such-file`, and all that `parseSmallMoves` refuses
 * @example
 * axis.readSmallMoves("data/ladder-x.csv").playIsTold // => true
 */
export function readSmallMoves(path: string, options: { readonly gauge?: Gauge } = {}): SmallMoves {
  const { source, ...file } = readSheetFile(path);
  return parseSmallMoves(source.text(), { name: file.name, file, ...options });
}
