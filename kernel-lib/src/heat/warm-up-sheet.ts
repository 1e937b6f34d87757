import type { CellRow } from "../survey/cells.js";
import { readSheetFile } from "../survey/files.js";
import { HeadedSheet } from "../survey/headed-sheet.js";
import { type Gauge, heightFactor, type SheetFile } from "../survey/index.js";
import { mergeGauge } from "../survey/preamble-gauge.js";
import { refuseSheet } from "../survey/sheet-error.js";
import { WarmUp, type WarmUpColumn } from "./warm-up.js";

const example = "time/min,nose/um,headstock/degC,room/degC";

/** How a record is read. */
export interface WarmUpOptions {
  /** in messages; the title on the sheet wins where the record is shown */
  readonly name?: string;
  readonly gauge?: Gauge;
  /** the file that the text came from */
  readonly file?: SheetFile;
}

/**
 * A warm-up or cooling record from the text of a sheet, a moment a row.
 *
 * Columns: `time` (of the day, 19:05 or 19:05:30) or `time/s`, `time/min`, `time/h`; any name over a unit of length for what a
 * gauge shows (`nose/um`, `/mm`, `/in`, `/thou`); any name over `degC`, `degF` or `K` for a thermometer; `note`. A blank cell was
 * not read; a thermometer that was never read is left out, and noted. Lines such as `# gauge resolution: 1 µm` stand above the heading; with `# gauge range per turn:` a missed turn of
 * the pointer is refused. Growth is what the gauge shows times its sign and cosines.
 *
 * @throws MeasurementError that names line and column; `time-missing`, `time-back`, `heading-unit`, `mixed-units`, `rolled-over`
 * @example
 * const head = ["# gauge resolution: 1 µm", "# gauge maximum permissible error: 3 µm", "time/min,nose/um,head/degF"];
 * const rows = [0, 10, 20, 30, 40, 60, 80].map((t) => `${t},${Math.round(20 * (1 - Math.exp(-t / 25)))},${68 + t / 10}`);
 * heat.parseWarmUp([...head, ...rows].join("\n")).thermometers.join() // => "head"
 */
export function parseWarmUp(text: string, options: WarmUpOptions = {}): WarmUp {
  const name = options.name ?? "pasted record";
  const sheet = new HeadedSheet(text, name, { time: "time", note: "word" }, ["length", "temperature"]);
  if (!sheet.has("time")) {
    refuseSheet(
      "time-missing",
      { name },
      `there is no column of time; write the heading ${example}, a time for each row`,
    );
  }
  const [lengths, warm] = [sheet.columns("length"), sheet.columns("temperature")];
  if (lengths.length + warm.length === 0) {
    refuseSheet("heading", { name }, `there is no column of growth or temperature; write the heading ${example}`);
  }
  const isRead = (column: string) => sheet.rows.some((row) => sheet.text(row, column) !== "");
  const [read, unread] = [warm.filter(isRead), warm.filter((column) => !isRead(column))];
  const title = sheet.lines.takeText("title");
  const date = sheet.lines.takeText("date");
  const gauge = lengths.length > 0 ? mergeGauge(sheet.lines, options.gauge) : undefined;
  const times = timesOf(sheet);
  const minute = times.map((time) => time - times[0]!);
  const columnOf = (column: string, read: (row: CellRow) => number | undefined): WarmUpColumn => {
    const found = sheet.rows.flatMap((row, i) => {
      const value = read(row);
      return value === undefined ? [] : [{ minute: minute[i]!, value }];
    });
    return { name: column, minute: found.map((one) => one.minute), value: found.map((one) => one.value) };
  };
  if (gauge) for (const column of lengths) needNoMissedTurn(sheet, column, gauge);
  const factor = gauge ? heightFactor(gauge) : 1;
  return new WarmUp({
    name: title ?? name,
    date,
    gauge,
    startSeconds: sheet.unit("time") === "clock" ? times[0]! * 60 : undefined,
    lastMinute: minute.at(-1)!,
    growths: lengths.map((column) =>
      columnOf(column, (row) => (sheet.text(row, column) === "" ? undefined : sheet.lengthUm(row, column) * factor)),
    ),
    thermometers: read.map((column) => columnOf(column, (row) => sheet.celsius(row, column))),
    thermometerStep: Math.max(0, ...read.map((column) => stepOfColumn(sheet, column))),
    notes: [...notesOf(gauge, read), ...unread.map((column) => `${column}: no reading, left out`)],
    file: options.file,
  });
}

/**
 * A warm-up or cooling record from a sheet on the disk.
 *
 * @throws MeasurementError `no-such-file`, and all that `parseWarmUp` refuses
 * @example
 * heat.readWarmUp("data/warm-up-spindle.csv").lasts.in("min") // => 360
 */
export function readWarmUp(path: string, options: { readonly gauge?: Gauge } = {}): WarmUp {
  const { source, ...file } = readSheetFile(path);
  return parseWarmUp(source.text(), { name: file.name, file, ...options });
}

/** minutes of each row; blank ones and those that do not follow the row before are refused */
function timesOf(sheet: HeadedSheet): number[] {
  const { name, rows } = sheet;
  if (rows.length === 0)
    refuseSheet("empty-sheet", { name }, "no row follows the heading; write a row for each moment");
  const column = sheet.heading("time");
  const clock = sheet.unit("time") === "clock";
  let before: { readonly text: string; readonly minute: number } | undefined;
  return rows.map((row) => {
    const text = sheet.text(row, "time");
    const minute = sheet.minutes(row, "time");
    const spot = { name, line: row.line, column };
    if (minute === undefined) {
      return refuseSheet(
        "time-missing",
        spot,
        "is blank; a reading without its time cannot be used, write it or leave the row out",
      );
    }
    if (before !== undefined && !(minute > before.minute)) {
      const midnight = clock ? "; past midnight head the column time/min and count from the start" : "";
      refuseSheet(
        "time-back",
        spot,
        `${text} is not after the ${before.text} of the row before; put the rows in the order of time, one a moment${midnight}`,
      );
    }
    before = { text, minute };
    return minute;
  });
}

/** Between two rows growth moves by little; a step of about whole turns of the pointer is a turn missed. */
function needNoMissedTurn(sheet: HeadedSheet, column: string, { rangePerTurn }: Gauge): void {
  if (!rangePerTurn) return;
  const turnUm = rangePerTurn.in("um");
  let before: number | undefined;
  for (const row of sheet.rows) {
    if (sheet.text(row, column) === "") continue;
    const now = sheet.lengthUm(row, column);
    const step = now - (before ?? now);
    before = now;
    const turns = Math.round(step / turnUm);
    if (turns === 0 || Math.abs(step - turns * turnUm) > turnUm / 4) continue;
    const many = Math.abs(turns) === 1 ? "one turn" : `${Math.abs(turns)} turns`;
    refuseSheet(
      "rolled-over",
      { name: sheet.name, line: row.line, column: sheet.heading(column) },
      `${sheet.text(row, column)} is ${rangePerTurn.times(Math.abs(step) / turnUm).text("um")} ${step > 0 ? "above" : "below"} the row before, about ${many} of the pointer (${rangePerTurn.text("um")} each); the small hand was missed: write the whole reading, turns included`,
    );
  }
}

/** one in the last place that is written, K */
function stepOfColumn(sheet: HeadedSheet, column: string): number {
  const decimals = sheet.rows.map((row) => /[.,](\d+)$/.exec(sheet.text(row, column))?.[1]?.length ?? 0);
  return 10 ** -Math.max(...decimals) * (sheet.unit(column) === "degF" ? 5 / 9 : 1);
}

function notesOf(gauge: Gauge | undefined, warm: readonly string[]): string[] {
  return [
    ...(gauge && !gauge.rangePerTurn && gauge.display === "analogue"
      ? ["the gauge does not state its range per turn: a missed turn of the pointer was not looked for"]
      : []),
    ...(gauge
      ? [
          `the gauge may be wrong by ± ${gauge.maximumPermissibleError} over its short range; a fitted curve holds the scatter only, not that`,
        ]
      : []),
    ...(warm.length === 0 ? ["no thermometer was read: growth cannot be told from the gauge or its stand moving"] : []),
  ];
}
