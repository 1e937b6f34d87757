import { type Quantity, um } from "../quantity/index.js";
import { readSheetFile } from "../survey/files.js";
import { HeadedSheet } from "../survey/headed-sheet.js";
import type { Gauge, SheetFile } from "../survey/index.js";
import { mergeGauge } from "../survey/preamble-gauge.js";
import { type PreambleLines, quantityOf } from "../survey/preamble-lines.js";
import { refuseSheet } from "../survey/sheet-error.js";
import { axisOf } from "./sheet-axis.js";
import { type SmallMoves, smallMoves } from "./small-moves.js";

/**
 * A ladder of small moves from the text of a sheet: heading `commanded/um,reading/um`, a row a rung in the order they were
 * taken; lines `# axis: X` and those of the gauge above it, `# pull: upward, 900 N` where an upward pull was
 * kept, and `# reading after release: 1 µm` for what the gauge read at the last rung once it was let go.
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
  const pull = pullOf(sheet.lines);
  const released = sheet.lines.take("reading after release");
  sheet.need(["commanded", "reading"], "commanded/um,reading/um");
  return smallMoves({
    axis,
    gauge,
    pull,
    released: released && quantityOf(sheet.lines, "reading after release", released, "length"),
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

/** The line `# pull: upward, 900 N`. */
function pullOf(lines: PreambleLines): Quantity<"force"> | undefined {
  const said = lines.take("pull");
  if (said === undefined) return undefined;
  const [, force] = /^upward, (.+)$/i.exec(said.value) ?? [];
  if (force !== undefined) return quantityOf(lines, "pull", { value: force, line: said.line }, "force");
  return refuseSheet(
    "pull",
    { name: lines.name, line: said.line },
    `"# pull: ${said.value}" is not understood; write which way and how strong, such as "# pull: upward, 900 N"`,
  );
}
