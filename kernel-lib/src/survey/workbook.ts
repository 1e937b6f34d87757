import { optionalPackage } from "./optional-package.js";
import { refuseSheet, shown } from "./sheet-error.js";

/** what we use of the spreadsheet package */
interface Spreadsheets {
  readonly read: (
    bytes: Uint8Array,
    options: { type: "array"; cellFormula: boolean; cellNF: boolean; cellText: boolean },
  ) => { readonly SheetNames: readonly string[]; readonly Sheets: { readonly [name: string]: Worksheet } };
  readonly utils: {
    readonly decode_range: (ref: string) => { readonly e: { readonly r: number; readonly c: number } };
    readonly encode_cell: (at: { r: number; c: number }) => string;
  };
  readonly SSF: { readonly is_date: (format: string) => boolean };
}
interface Worksheet {
  readonly "!ref"?: string;
  readonly [cell: string]: unknown;
}
interface Cell {
  readonly t: string;
  readonly v?: string | number | boolean;
  /** formula, and number format */
  readonly f?: string;
  readonly z?: string;
}

const mostCells = 2e7;

/**
 * The text of one sheet of an .xlsx workbook, cell for cell, a row a line; the only sheet, or the one named.
 * A formula is refused by its place: what it shows depends on the program that opened it last.
 */
export function workbookText(bytes: Uint8Array, name: string, wanted: string | undefined): string {
  const package_ = optionalPackage(["@e965/xlsx", "xlsx"], "reading an .xlsx workbook") as Spreadsheets;
  const book = opened(package_, bytes, name);
  const sheet = chosen(book.SheetNames, name, wanted);
  const page = book.Sheets[sheet]!;
  const spot = `${name}, sheet ${shown(sheet)}`;
  if (page["!ref"] === undefined)
    refuseSheet("empty-sheet", { name: spot }, "holds nothing; give a sheet with readings");
  const { e: last } = package_.utils.decode_range(page["!ref"]);
  if ((last.r + 1) * (last.c + 1) > mostCells) {
    refuseSheet(
      "too-large",
      { name: spot },
      `reaches to row ${last.r + 1}, column ${last.c + 1}, farther than readings do; clear what stands far out, or give another sheet of the workbook`,
    );
  }
  const lines: string[] = [];
  for (let r = 0; r <= last.r; r++) {
    const cells: string[] = [];
    for (let c = 0; c <= last.c; c++) {
      const at = package_.utils.encode_cell({ r, c });
      cells.push(cellText(package_, page[at] as Cell | undefined, `${spot} cell ${at}`));
    }
    lines.push(cells.join(","));
  }
  return lines.join("\n");
}

function opened({ read }: Spreadsheets, bytes: Uint8Array, name: string): ReturnType<Spreadsheets["read"]> {
  try {
    const book = read(bytes, { type: "array", cellFormula: true, cellNF: true, cellText: false });
    // a damaged file can name sheets whose page is gone
    const isWhole = book.SheetNames.length > 0 && book.SheetNames.every((sheet) => book.Sheets[sheet] !== undefined);
    if (isWhole) return book;
  } catch {
    // refused below, like one that is not whole
  }
  return refuseSheet(
    "not-a-workbook",
    { name },
    "cannot be opened as an .xlsx workbook; save it again, or save the sheet as CSV (UTF-8)",
  );
}

function chosen(names: readonly string[], name: string, wanted: string | undefined): string {
  if (wanted !== undefined && names.includes(wanted)) return wanted;
  if (wanted === undefined && names.length === 1) return names[0]!;
  const there = names.map(shown).join(", ");
  return refuseSheet(
    "which-sheet",
    { name },
    wanted === undefined
      ? `the workbook has the sheets ${there}; say which one: { sheet: ${JSON.stringify(names[0] ?? "")} }`
      : `the workbook has no sheet ${shown(wanted)}; it has ${there}`,
  );
}

function cellText({ SSF }: Spreadsheets, cell: Cell | undefined, name: string): string {
  if (cell === undefined || cell.t === "z" || cell.v === undefined) {
    if (cell?.f !== undefined) refuseFormula(cell.f, name);
    return "";
  }
  if (cell.f !== undefined) refuseFormula(cell.f, name);
  if (cell.t === "e")
    refuseSheet("cell-error", { name }, "shows an error of the spreadsheet; type the reading, or clear the cell");
  if (cell.t !== "n") return quoted(String(cell.v));
  const value = Number(cell.v);
  if (cell.z === undefined || !SSF.is_date(cell.z)) return String(value);
  const seconds = Math.round(value * 86_400);
  if (!(seconds >= 0 && seconds < 86_400)) {
    return refuseSheet("date", { name }, "is a date; type it as a text, or a time of day as 19:05");
  }
  const two = (n: number) => String(Math.floor(n)).padStart(2, "0");
  return `${two(seconds / 3600)}:${two((seconds % 3600) / 60)}:${two(seconds % 60)}`;
}

function refuseFormula(formula: string, name: string): never {
  refuseSheet(
    "formula",
    { name },
    `holds the formula ${shown(`=${formula}`)}; put the number that was read in its place (paste as values)`,
  );
}

function quoted(text: string): string {
  return text === "" ? "" : `"${text.replaceAll('"', '""').replaceAll(/[\r\n]+/g, " ")}"`;
}
