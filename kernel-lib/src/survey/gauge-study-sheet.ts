import { um } from "../quantity/index.js";
import { parseDecimal } from "../quantity/parse.js";
import { cutCells } from "./cells.js";
import { readSheetFile } from "./files.js";
import { type GaugeStudy, type GaugeStudyOptions, gaugeStudy } from "./gauge-study.js";
import type { StudyReading } from "./gauge-study-cells.js";
import { lengthUnit } from "./headings.js";
import { mergeGauge } from "./preamble-gauge.js";
import { PreambleLines, quantityOf } from "./preamble-lines.js";
import { micrometres } from "./sheet.js";
import { refuseSheet, shown } from "./sheet-error.js";

const partWords = ["part", "place"] as const;
const operatorWords = ["operator", "day", "set-up"] as const;

/**
 * A gauge study from the text of a sheet: a heading `part,operator,value/um` (or `place`; `day` or `set-up`) and a reading a
 * row; lines `# title:`, `# tolerance:` and those of the gauge above it are understood, other lines are kept as notes.
 *
 * @throws MeasurementError that names line and column, and all that `gaugeStudy` refuses
 * @example
 * survey.parseGaugeStudy("place,day,value/um\nA1,1,3\nA1,1,4\nB4,1,-6\nB4,1,-6").chosen.of("EV").standardDeviation.in("um").toFixed(3) // => "0.500"
 */
export function parseGaugeStudy(
  text: string,
  options: Omit<GaugeStudyOptions, "readings" | "operatorsAre" | "partsAre"> = {},
): GaugeStudy {
  const sheetName = options.name ?? "pasted study";
  const { preamble, table } = cutCells(text, sheetName);
  const lines = new PreambleLines(preamble, sheetName);
  const title = lines.takeText("title");
  const tolerance = lines.take("tolerance");
  const gauge = lines.keysFrom("gauge").length > 0 ? mergeGauge(lines, options.gauge) : options.gauge;
  const [heading, ...rows] = table;
  const columns = columnsOf(heading!.cells, sheetName, heading!.line);
  const readings = rows.map(({ line, cells }): StudyReading => {
    const value = parseDecimal(cells[columns.value] ?? "");
    if (value === undefined) {
      refuseSheet(
        "not-a-number",
        { name: sheetName, line, column: heading!.cells[columns.value]! },
        `${shown(cells[columns.value] ?? "")} is not a number; a study needs every reading, read it again`,
      );
    }
    const operator = columns.operator === undefined ? undefined : (cells[columns.operator] ?? "");
    if (operator === "") {
      refuseSheet(
        "blank",
        { name: sheetName, line, column: heading!.cells[columns.operator!]! },
        "is blank; write who or when",
      );
    }
    const part = cells[columns.part] ?? "";
    return {
      part,
      value: um(value * columns.um),
      ...(operator === undefined ? {} : { operator }),
    };
  });
  return gaugeStudy({
    ...(tolerance ? { tolerance: quantityOf(lines, "tolerance", tolerance, "length") } : {}),
    ...options,
    name: title ?? sheetName,
    ...(gauge ? { gauge } : {}),
    readings,
    notes: [...lines.left().map(([key, value]) => `${key}: ${value}`), ...lines.notes, ...(options.notes ?? [])],
    partsAre: columns.partWord === "place" ? "places" : "parts",
    operatorsAre: columns.operatorWord === "day" ? "days" : columns.operatorWord === "set-up" ? "set-ups" : "operators",
  });
}

/**
 * A gauge study from a sheet on the disk.
 *
 * @throws MeasurementError `no-such-file`, and all that `parseGaugeStudy` refuses
 * @example
 * survey.readGaugeStudy("data/gauge-one-evening.csv").repeatability.degreesOfFreedom // => 20
 */
export function readGaugeStudy(
  path: string,
  options: Omit<GaugeStudyOptions, "readings" | "operatorsAre" | "partsAre" | "name" | "file"> = {},
): GaugeStudy {
  const { source, ...file } = readSheetFile(path);
  return parseGaugeStudy(source.text(), { ...options, name: file.name, file });
}

interface Columns {
  readonly part: number;
  readonly operator: number | undefined;
  readonly value: number;
  readonly um: number;
  readonly partWord: (typeof partWords)[number];
  readonly operatorWord: (typeof operatorWords)[number];
}

function columnsOf(written: readonly string[], name: string, line: number): Columns {
  const words = written.map((cell) => cell.toLowerCase());
  const known = [...partWords, ...operatorWords, "repeat", ""];
  const stranger = words.find((word) => !known.includes(word) && !word.startsWith("value/"));
  if (stranger !== undefined) {
    refuseSheet(
      "heading",
      { name, line },
      `the heading ${shown(stranger)} is not known; use ${known.slice(0, -1).join(", ")}, value/um`,
    );
  }
  const partWord = partWords.find((word) => words.includes(word));
  const operatorWord = operatorWords.find((word) => words.includes(word));
  const value = words.findIndex((word) => word.startsWith("value/"));
  const unit = value < 0 ? undefined : lengthUnit(written[value]!.slice("value/".length).trim());
  if (partWord === undefined || unit === undefined) {
    refuseSheet(
      "heading",
      { name, line },
      `the heading ${shown(written.join(","))} lacks ${partWord === undefined ? "part" : "value with a unit of length"}; write part,operator,value/um`,
    );
  }
  return {
    part: words.indexOf(partWord),
    operator: operatorWord === undefined ? undefined : words.indexOf(operatorWord),
    value,
    um: micrometres[unit],
    partWord,
    operatorWord: operatorWord ?? "operator",
  };
}
