import { deg, type Length, mm, um } from "../quantity/index.js";
import { parseDecimal } from "../quantity/parse.js";
import { readSheetFile } from "../survey/files.js";
import { HeadedSheet } from "../survey/headed-sheet.js";
import type { Gauge, SheetFile } from "../survey/index.js";
import { mergeGauge } from "../survey/preamble-gauge.js";
import { type PreambleLines, quantityOf } from "../survey/preamble-lines.js";
import { refuseSheet, shown } from "../survey/sheet-error.js";
import type { SweepGiven } from "./spindle-tram.js";

const columns = { angle: "angle", reading: "length", turn: "word", note: "word" } as const;

/** How a sheet of a sweep is read. */
export interface SweepSheetOptions {
  /** in messages; the title on the sheet wins where the sweep is shown */
  readonly name?: string;
  /** where the sheet does not say it */
  readonly gauge?: Gauge;
  /** the file that the text came from */
  readonly file?: SheetFile;
}

/**
 * A sweep of the spindle from the text of a sheet, a reading a row: `angle/deg,reading/um`, angles of the stylus seen from above,
 * from +X towards +Y, places read again in rows of their own. Above the heading stand the gauge, `# radius: 100 mm`
 * (`# radius within: 1 mm`), and where known `# centre: 260, 120` in mm and `# over:` what was swept.
 *
 * @throws MeasurementError that names line and column; `said`, `radius`, `centre`, `not-a-number`, `blank`
 * @see `spindleTram`, which refuses a sweep of fewer than four places
 * @example
 * const head = ["radius: 75 mm", "gauge resolution: 1 µm", "gauge maximum permissible error: 2 µm"].map((said) => `# ${said}`);
 * const rows = ["0,10", "90,0", "180,-10", "270,0"];
 * form.spindleTram(form.parseSweep([...head, "angle/deg,reading/um", ...rows].join("\n"))).size.in("um/m").toFixed(3) // => "133.333"
 */
export function parseSweep(text: string, options: SweepSheetOptions = {}): SweepGiven {
  const name = options.name ?? "pasted sweep";
  const sheet = new HeadedSheet(text, name, columns);
  const { lines } = sheet;
  sheet.need(["angle", "reading"], "angle/deg,reading/um");
  const title = lines.takeText("title");
  const gauge = mergeGauge(lines, options.gauge);
  const radius = lengthOf(lines, "radius");
  if (radius === undefined) {
    refuseSheet(
      "said",
      { name },
      'the sheet does not say how far the stylus is from the axis of the spindle; write "# radius: 100 mm"',
    );
  }
  const [radiusWithin, centre, over] = [lengthOf(lines, "radius within"), centreOf(lines), lines.takeText("over")];
  const readings = sheet.rows.map((row) => ({
    angle: deg(sheet.number(row, "angle")),
    reading: um(sheet.lengthUm(row, "reading")),
  }));
  const notes = [...lines.left().map(([key, value]) => `${key}: ${value}`), ...lines.notes];
  return {
    name: title ?? name,
    radius,
    ...(radiusWithin && { radiusWithin }),
    gauge,
    readings,
    ...(over === undefined ? {} : { over }),
    ...(centre && { centre }),
    notes,
    file: options.file,
  };
}

/**
 * A sweep of the spindle from a sheet on the disk; a relative path starts from the folder of the notebook.
 *
 * @throws MeasurementError `no-such-file`, and all that `parseSweep` refuses
 * @example
 * form.readSweep("data/sweep-head.csv").readings.length // => 16
 */
export function readSweep(path: string, options: Omit<SweepSheetOptions, "file"> = {}): SweepGiven {
  const { source, ...file } = readSheetFile(path);
  return parseSweep(source.text(), { name: file.name, file, ...options });
}

function lengthOf(lines: PreambleLines, key: string): Length | undefined {
  const found = lines.take(key);
  if (found === undefined) return undefined;
  const length = quantityOf(lines, key, found, "length");
  if (length.si > 0) return length;
  return refuseSheet(
    "radius",
    { name: lines.name, line: found.line },
    `"# ${key}: ${found.value}" is no distance; write one above zero`,
  );
}

function centreOf(lines: PreambleLines): SweepGiven["centre"] {
  const found = lines.take("centre");
  if (found === undefined) return undefined;
  const [x, y] = (/^(\S+), *(\S+?)(?: *mm)?$/.exec(found.value)?.slice(1) ?? []).map(parseDecimal);
  if (x !== undefined && y !== undefined) return { x: mm(x), y: mm(y) };
  return refuseSheet(
    "centre",
    { name: lines.name, line: found.line },
    `${shown(found.value)} is no place on the table; write "# centre: 260, 120", x and y in mm`,
  );
}
