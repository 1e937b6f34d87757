import { type Table, table } from "../display/table.js";
import { counted } from "../words.js";

/** What is read of a data frame of danfojs, whichever copy of it a cell has loaded. */
interface DataFrame {
  readonly columns: readonly string[];
  readonly values: readonly (readonly unknown[])[];
  readonly index: readonly (string | number)[];
}

/** rows shown of a long frame */
const mostRows = 40;

/** A data frame as a table, the first rows of a long one; nothing for any other value. */
export function frameTable(value: unknown): Table | undefined {
  if (!isDataFrame(value)) return undefined;
  const { columns, values, index } = value;
  const left = values.length - mostRows;
  return table({
    caption: `data frame, ${counted(values.length, "row")}, ${counted(columns.length, "column")}`,
    columns: [{ heading: "", asWritten: true }, ...columns.map((heading) => ({ heading, asWritten: true }))],
    rows: values.slice(0, mostRows).map((row, i) => [String(index[i] ?? i), ...row.map(cellText)]),
    ...(left > 0 && { notes: [`and ${counted(left, "row")} more`] }),
  });
}

function isDataFrame(value: unknown): value is DataFrame {
  if (typeof value !== "object" || value === null || value.constructor?.name !== "DataFrame") return false;
  return ["columns", "values", "index"].every((name) => Array.isArray(Reflect.get(value, name)));
}

function cellText(value: unknown): string {
  return value === null || value === undefined || Number.isNaN(value) ? "–" : String(value);
}
