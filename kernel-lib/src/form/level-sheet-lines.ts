import { type Length, type Slope, umPerM } from "../quantity/index.js";
import { parseDecimal } from "../quantity/parse.js";
import type { CellRow } from "../survey/cells.js";
import type { HeadedSheet } from "../survey/headed-sheet.js";
import { quantityOf } from "../survey/preamble-lines.js";
import { refuseSheet, shown } from "../survey/sheet-error.js";
import { type LevelRun, levelRuns } from "./level-runs.js";

/** Places and readings of a sheet that numbers the steps of its lines. */
export function readingsOfLines(sheet: HeadedSheet, unit: Slope): ReturnType<typeof levelRuns> {
  const common = footOf(sheet, undefined);
  const runs = sheet.lines.keysFrom("line").map((key) => runOf(sheet, key, common, unit));
  needKnownLines(sheet, runs);
  return levelRuns(runs);
}

/** the foot of all lines, or of one that has its own: "# foot of line back: 75 mm" */
export function footOf({ name, lines }: HeadedSheet, line: string | undefined): Length | undefined {
  const key = line === undefined ? "foot" : `foot of ${line}`;
  const found = lines.take(key);
  if (found === undefined) return undefined;
  const foot = quantityOf(lines, key, found, "length");
  if (foot.in("mm") > 0) return foot;
  return refuseSheet(
    "foot",
    { name, line: found.line },
    `a foot of ${foot.text("mm")} steps off no line; write the distance of the level's feet`,
  );
}

function needFoot({ name }: HeadedSheet): never {
  return refuseSheet("said", { name }, 'the sheet does not say its foot; write "# foot: 100 mm"');
}

function runOf(sheet: HeadedSheet, key: string, common: Length | undefined, unit: Slope): LevelRun {
  const { name, lines } = sheet;
  const foot = footOf(sheet, key) ?? common ?? needFoot(sheet);
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
    found.set(step, umPerM(sheet.number(row, "reading") * unit.in("um/m")));
  }
  return Array.from({ length: count }, (_, i) => {
    const reading = found.get(i + 1);
    if (reading !== undefined) return reading;
    return refuseSheet("step-missing", { name }, `step ${i + 1} of line "${line}" is not read ${how}; read it`);
  });
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
