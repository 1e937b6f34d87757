import { median } from "../numerics/index.js";
import { readSheetFile } from "../survey/files.js";
import { HeadedSheet } from "../survey/headed-sheet.js";
import { type Gauge, heightFactor, type SheetFile } from "../survey/index.js";
import { mergeGauge } from "../survey/preamble-gauge.js";
import { type PreambleLines, quantityOf } from "../survey/preamble-lines.js";
import { refuseSheet, shown } from "../survey/sheet-error.js";
import type { PlainReading } from "./arranged-readings.js";
import type { LengthReference } from "./length-reference.js";
import { type PositioningTest, testOfReadings } from "./positioning-test.js";
import { axisOf } from "./sheet-axis.js";

const columns = {
  target: "length",
  direction: "word",
  run: "word",
  deviation: "length",
  position: "length",
  reference: "length",
  order: "word",
  time: "time",
  temperature: "temperature",
  note: "word",
} as const;
const exampleHeading = "target/mm,direction,run,deviation/um,time,temperature/degC,note";

export interface PositioningSheetOptions {
  /** in messages; the title on the sheet wins where the test is shown */
  readonly name?: string;
  readonly gauge?: Gauge;
  /** the file that the text came from */
  readonly file?: SheetFile;
}

/**
 * A positioning test from the text of a sheet, a reading a row in the order in which they were taken.
 *
 * Above the heading stand lines such as `# axis: X`, `# gauge resolution: 1 µm`, `# gauge maximum permissible error: 3 µm`,
 * `# reference: gauge blocks`, `# reference scale limit: 10 µm/m`, `# sense proven: yes`. The column `deviation` holds actual −
 * target as the gauge shows it (its sign and cosines are applied), or `position` what a scale shows; `reference` holds how much longer
 * the block at that target is than its nominal length, which is added.
 *
 * @throws MeasurementError that names line and column; `mixed-units` for a cell with a unit of its own and for positions in another
 *   unit than the targets; and all that `positioningTest` refuses
 * @example
 * const rows = ["target/mm,direction,run,deviation/um", ...[1, 2].flatMap((run) => ["0,up", "50,up", "50,down", "0,down"].map((at) => `${at},${run},${run}`))];
 * const head = ["# axis: X", "# gauge resolution: 1 µm", "# gauge maximum permissible error: 3 µm", "# reference: gauge blocks"];
 * axis.parsePositioning([...head, ...rows].join("\n")).runs // => 2
 */
export function parsePositioning(text: string, options: PositioningSheetOptions = {}): PositioningTest {
  const name = options.name ?? "pasted test";
  const sheet = new HeadedSheet(text, name, columns);
  const { lines, rows } = sheet;
  const title = lines.takeText("title");
  const axis = axisOf(lines);
  const gauge = mergeGauge(lines, options.gauge);
  const reference = referenceOf(lines);
  const sense = lines.takeText("sense proven");
  sheet.need(["target", "direction", "run"], exampleHeading);
  if (sheet.has("deviation") === sheet.has("position")) {
    refuseSheet(
      "heading",
      { name },
      sheet.has("position")
        ? "there is a column of deviation and one of position; one says it all, leave one of the two"
        : `there is no column of deviation or position; write the heading ${exampleHeading}`,
    );
  }
  if (sheet.has("position")) needOneUnit(sheet);
  const factor = heightFactor(gauge);
  const readings = rows.map((row): PlainReading => {
    const targetUm = sheet.lengthUm(row, "target");
    const seen = sheet.has("position")
      ? sheet.lengthUm(row, "position") - targetUm
      : sheet.lengthUm(row, "deviation") * factor;
    const minutes = sheet.minutes(row, "time");
    const celsius = sheet.celsius(row, "temperature");
    return {
      // whole nanometres: 0.1 mm stays 0.1 mm
      targetMm: Math.round(targetUm * 1000) / 1e6,
      direction: directionOf(sheet.text(row, "direction"), { name, line: row.line, column: "direction" }),
      run: runOf(sheet.text(row, "run"), { name, line: row.line, column: "run" }),
      deviationUm: seen + (sheet.text(row, "reference") === "" ? 0 : sheet.lengthUm(row, "reference")),
      ...(minutes === undefined ? {} : { minutes }),
      ...(celsius === undefined ? {} : { celsius }),
    };
  });
  const notes = [...lines.left().map(([key, value]) => `${key}: ${value}`), ...lines.notes];
  const facts = {
    axis,
    gauge,
    reference,
    name: title ?? name,
    senseProven: /^yes\b/i.test(sense ?? ""),
    notes,
    file: options.file,
  };
  return testOfReadings(facts, readings, name, (i) => `${name} line ${rows[i]!.line}`);
}

/**
 * A positioning test from a sheet on the disk; a relative path starts from the folder of the notebook.
 *
 * @throws MeasurementError `no-such-file`, `closed-sheet-changed` where sheets are strict, and all that `parsePositioning` refuses
 * @example
 * axis.readPositioning("data/positioning-x.csv").runs // => 5
 */
export function readPositioning(path: string, options: PositioningSheetOptions = {}): PositioningTest {
  const { source, ...file } = readSheetFile(path);
  return parsePositioning(source.text(), { name: file.name, file, ...options });
}

function referenceOf(lines: PreambleLines): LengthReference {
  const name = lines.takeText("reference");
  if (name === undefined) {
    return refuseSheet(
      "reference",
      { name: lines.name },
      'the sheet does not say what carries the length; write "# reference: gauge blocks, grade 2", and "# reference scale limit: 10 µm/m" where it is known',
    );
  }
  const scale = lines.take("reference scale limit");
  const alignment = lines.take("reference alignment limit");
  const temperature = lines.take("reference temperature");
  const difference = lines.take("temperature difference limit");
  const expansion = lines.take("expansion difference limit");
  return {
    name,
    ...(scale && { scaleLimit: quantityOf(lines, "reference scale limit", scale, "slope") }),
    ...(alignment && { alignmentLimit: quantityOf(lines, "reference alignment limit", alignment, "slope") }),
    ...(temperature && { temperature: quantityOf(lines, "reference temperature", temperature, "temperature") }),
    ...(difference && {
      temperatureDifferenceLimit: quantityOf(
        lines,
        "temperature difference limit",
        difference,
        "temperature difference",
      ),
    }),
    ...(expansion && {
      expansionDifferenceLimit: quantityOf(lines, "expansion difference limit", expansion, "expansion coefficient"),
    }),
  };
}

interface Spot {
  readonly name: string;
  readonly line: number;
  readonly column: string;
}

function directionOf(cell: string, spot: Spot): "up" | "down" {
  const word = cell.toLowerCase();
  if (word === "up" || word === "+" || word === "↑") return "up";
  if (word === "down" || word === "-" || word === "−" || word === "↓") return "down";
  return refuseSheet("direction", spot, `${shown(cell)} is no direction; write up or down, the side of approach`);
}

function runOf(cell: string, spot: Spot): number {
  const run = /^\d{1,4}$/.test(cell) ? Number(cell) : 0;
  if (run >= 1) return run;
  return refuseSheet("run", spot, `${shown(cell)} is no run; number the runs from 1`);
}

/** positions in inches against targets in millimetres, or the other way round */
function needOneUnit(sheet: HeadedSheet): void {
  const ratios = sheet.rows.flatMap((row) => {
    const target = sheet.lengthUm(row, "target");
    return target === 0 ? [] : [sheet.lengthUm(row, "position") / target];
  });
  if (ratios.length === 0) return;
  const ratio = median(ratios);
  const [farther] = [25.4, 1 / 25.4, 1000, 1 / 1000].filter((factor) => Math.abs(ratio / factor - 1) < 0.01);
  if (farther === undefined) return;
  refuseSheet(
    "mixed-units",
    { name: sheet.name },
    `the positions are about ${Number(farther.toPrecision(3))} times the targets: one column is in another unit than its heading says; correct the heading`,
  );
}
