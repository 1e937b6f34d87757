import { rowAt } from "./columns.js";
import { type ColumnName, columnNames } from "./headings.js";
import { gaugeLines } from "./preamble-gauge.js";
import type { Sheet, SheetPreamble, SheetRow } from "./sheet.js";

/** The text of a sheet: our long form, comma and decimal point, every row, reading for reading as it was written. */
export function writeSheet(sheet: Sheet): string {
  const used = usedColumns(sheet);
  const lines = preambleLines(sheet.preamble);
  if (sheet.columns.order === undefined) lines.push("# order: unknown");
  lines.push(used.map((column) => headingOf(column, sheet)).join(","));
  for (let i = 0; i < sheet.columns.count; i++) {
    const row = rowAt(sheet.columns, i);
    lines.push(used.map((column) => sheetCell(row, column, sheet)).join(","));
  }
  return `${lines.join("\n")}\n`;
}

/** columns that hold something, and those that every sheet has */
export function usedColumns({ columns }: Sheet): readonly ColumnName[] {
  return columnNames.filter((column) => {
    if (["place", "x", "y", "z", "pass"].includes(column)) return true;
    return column === "order" ? typeof columns.order === "object" : columns[column] !== undefined;
  });
}

export function preambleLines(said: SheetPreamble): string[] {
  const { frame, travel } = said;
  const pairs: (readonly [string, string | undefined])[] = [
    ["title", said.title],
    ["date", said.date],
    ["relative to", frame.relativeTo],
    ["front", frame.front],
    ["+x", frame.plusX],
    ["+y", frame.plusY],
    ...gaugeLines(said.gauge),
    ["zeroed", said.oneZero ? undefined : "at each pass"],
    ...Object.entries(said.protocol),
    ...said.temperatures.map(({ where, text }) => [`temperature ${where}`.trim(), text] as const),
    ["travel x", travel.x && `${travel.x.fromMm} mm to ${travel.x.toMm} mm`],
    ["travel y", travel.y && `${travel.y.fromMm} mm to ${travel.y.toMm} mm`],
    ...said.looked.map(({ place, found }) => [`looked at ${place}`, found] as const),
    ...said.other,
    ...said.notes.map((note) => ["note", note] as const),
    ...said.removed.map(({ place, pass, reason }) => ["removed", `${place}, pass ${pass}: ${reason}`] as const),
  ];
  return pairs.filter(([, value]) => value !== undefined).map(([key, value]) => preambleLine(`# ${key}: ${value}`));
}

/** a line that a comma or a quotation mark would spoil goes into quotation marks */
function preambleLine(line: string): string {
  return /[,;\t]$/.test(line) ? `"${line.replaceAll('"', '""')}"` : line;
}

export function headingOf(column: ColumnName, { units }: Sheet): string {
  if (column === "time") return units.time === "clock" ? "time" : `time/${units.time}`;
  if (column === "x" || column === "y" || column === "z" || column === "temperature")
    return `${column}/${units[column]}`;
  return column;
}

export function sheetCell(row: SheetRow, column: ColumnName, { units }: Sheet): string {
  const value = row[column];
  if (value === undefined) return "";
  if (column === "time" && units.time === "clock") return clock(value as number);
  const text = String(value);
  return /[",\n#]/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}

function clock(seconds: number): string {
  const two = (n: number) => String(Math.floor(n)).padStart(2, "0");
  const minutes = `${two(seconds / 3600)}:${two((seconds % 3600) / 60)}`;
  return seconds % 60 === 0 ? minutes : `${minutes}:${two(seconds % 60)}`;
}
