import { parseDecimal } from "../quantity/parse.js";
import { counted } from "../words.js";
import type { CellRow } from "./cells.js";
import { columnsOfRows, type SheetColumns } from "./columns.js";
import { lengthUnit } from "./headings.js";
import type { PreambleLines } from "./preamble-lines.js";
import type { SheetRow, SheetUnits } from "./sheet.js";
import { refuseSheet, shown } from "./sheet-error.js";

/** corner cell of a grid: `y/mm \ x/mm`, `y/mm \ x/mm z/um` */
const corner = /^y\/(\S+)\s*[\\|]\s*x\/(\S+?)(?:[\s:]+z\/(\S+))?$/;

export function isGridCorner(cell: string | undefined): boolean {
  return cell !== undefined && corner.test(cell);
}

/** The units that the corner of a grid names, as they are written. */
export function cornerUnits(cell: string): { readonly x: string; readonly y: string; readonly z?: string } {
  const [, y = "", x = "", z] = corner.exec(cell) ?? [];
  return { x, y, ...(z === undefined ? {} : { z }) };
}

/** one block of a grid: the heading row and the rows below it, all of one pass */
interface Block {
  readonly pass: number;
  readonly head: CellRow;
  readonly rows: readonly CellRow[];
}

/**
 * Reads a grid as it stands on paper: x across the top, y down the side, one block a pass. Places are named by column
 * letter and row number of the first block (A1, B1, …). A grid does not say in which order it was read.
 */
export function readGridTable(
  table: readonly CellRow[],
  name: string,
  lines: PreambleLines,
): { units: SheetUnits; columns: SheetColumns } {
  const blocks = cutBlocks(table, name, lines);
  const units = gridUnits(blocks[0]!.head, name, lines);
  const xs = axis(blocks[0]!.head, blocks[0]!.head.cells.slice(1), name);
  const ys = blocks[0]!.rows.map((row) => readNumber(row, 0, name) ?? blankHead(row, name));
  needDistinct(ys, blocks[0]!.head, "y", name);
  const rows = blocks.flatMap((block) => {
    needSameAxes(block, blocks[0]!, xs, ys, name);
    return block.rows.flatMap((row, j) => {
      needNoMore(row, xs.length + 1, name);
      return xs.map((x, i): SheetRow => {
        const z = readNumber(row, i + 1, name);
        return { place: `${letters(i)}${j + 1}`, pass: block.pass, x, y: ys[j]!, ...(z === undefined ? {} : { z }) };
      });
    });
  });
  return { units, columns: columnsOfRows(rows, false) };
}

function cutBlocks(table: readonly CellRow[], name: string, lines: PreambleLines): Block[] {
  const blocks: { pass: number; head: CellRow; rows: CellRow[] }[] = [];
  let stated = passNumber(lines.takeText("pass"), table[0]!, name);
  for (const row of table) {
    const first = row.cells[0]!;
    const passLine = /^#\s*pass\s*:\s*(.*)$/.exec(first);
    if (passLine) stated = passNumber(passLine[1], row, name);
    else if (first.startsWith("#")) {
      refuseSheet(
        "late-preamble",
        { name, line: row.line },
        `${shown(first)} stands below the heading; only "# pass: 2" may stand between two blocks`,
      );
    } else if (isGridCorner(first)) {
      const pass = stated ?? blocks.length + 1;
      if (blocks.some((block) => block.pass === pass)) {
        refuseSheet(
          "two-readings",
          { name, line: row.line },
          `pass ${pass} has a block already; write "# pass: ${pass + 1}" above this one`,
        );
      }
      blocks.push({ pass, head: row, rows: [] });
      stated = undefined;
    } else blocks.at(-1)!.rows.push(row);
  }
  const empty = blocks.find((block) => block.rows.length === 0);
  if (empty)
    refuseSheet(
      "empty-sheet",
      { name, line: empty.head.line },
      "no row follows the heading of the grid; write y and its readings below it",
    );
  return blocks;
}

function passNumber(text: string | undefined, row: CellRow, name: string): number | undefined {
  if (text === undefined) return undefined;
  if (/^[1-9]\d{0,5}$/.test(text)) return Number(text);
  return refuseSheet(
    "pass",
    { name, line: row.line },
    `"# pass: ${text}" is not a pass; write 1 for the first pass, 2 for the second`,
  );
}

function gridUnits(head: CellRow, name: string, lines: PreambleLines): SheetUnits {
  const { x, y, z: inCorner } = cornerUnits(head.cells[0]!);
  const z = inCorner ?? lines.takeText("z");
  const spot = { name, line: head.line, column: "1" };
  if (z === undefined) {
    return refuseSheet(
      "heading-unit",
      spot,
      `the corner ${shown(head.cells[0]!)} does not say the unit of z; write y/mm \\ x/mm z/um`,
    );
  }
  const found = [x, y, z].map((given) => {
    const unit = lengthUnit(given);
    return (
      unit ??
      refuseSheet(
        "heading-unit",
        spot,
        `${shown(given)} is not a unit of length here; use m, mm, um, nm, in, thou or tenth`,
      )
    );
  });
  return { x: found[0]!, y: found[1]!, z: found[2]!, time: "clock", temperature: "degC" };
}

function axis(head: CellRow, cells: readonly string[], name: string): number[] {
  const last = cells.findLastIndex((cell) => cell !== "");
  const xs = cells.slice(0, last + 1).map((_, i) => readNumber(head, i + 1, name) ?? blankHead(head, name));
  if (xs.length === 0)
    refuseSheet(
      "heading",
      { name, line: head.line },
      "no x stands in the heading of the grid; write the x of each column",
    );
  needDistinct(xs, head, "x", name);
  return xs;
}

function needDistinct(values: readonly number[], row: CellRow, axisName: string, name: string): void {
  const twice = values.find((value, i) => values.indexOf(value) !== i);
  if (twice === undefined) return;
  refuseSheet(
    "two-readings",
    { name, line: row.line },
    `${axisName} ${twice} stands twice in the grid; a grid has each ${axisName} once a pass`,
  );
}

function needSameAxes(block: Block, first: Block, xs: readonly number[], ys: readonly number[], name: string): void {
  const own = axis(block.head, block.head.cells.slice(1), name);
  const same =
    own.length === xs.length && own.every((x, i) => x === xs[i]) && block.head.cells[0] === first.head.cells[0];
  const down = block.rows.map((row) => readNumber(row, 0, name));
  if (same && down.length === ys.length && down.every((y, j) => y === ys[j])) return;
  refuseSheet(
    "grid-shape",
    { name, line: block.head.line },
    `the block of pass ${block.pass} has other units, x or y than the block of pass ${first.pass}; give every block the same places, blank where not probed`,
  );
}

function readNumber(row: CellRow, at: number, name: string): number | undefined {
  const cell = row.cells[at];
  const spot = { name, line: row.line, column: String(at + 1) };
  if (cell === undefined) {
    return refuseSheet(
      "row-width",
      { name, line: row.line },
      `${counted(row.cells.length, "cell")}, and the grid is wider; fill the row up, blank cells included`,
    );
  }
  if (cell === "") return undefined;
  const value = parseDecimal(cell);
  if (value !== undefined) return value + 0;
  return refuseSheet(
    "not-a-number",
    spot,
    `${shown(cell)} is not a number; type digits only, or leave the cell blank if the place was not probed`,
  );
}

function needNoMore(row: CellRow, width: number, name: string): void {
  const extra = row.cells.slice(width).find((cell) => cell !== "");
  if (extra === undefined) return;
  refuseSheet(
    "row-width",
    { name, line: row.line },
    `${shown(extra)} stands right of the last x; write its x into the heading, or check for a decimal comma`,
  );
}

function blankHead(row: CellRow, name: string): never {
  return refuseSheet("blank", { name, line: row.line }, "the x or y of a grid line is blank; write where it stands");
}

/** A, B, … Z, AA, AB, … */
export function letters(i: number): string {
  return (i >= 26 ? letters(Math.floor(i / 26) - 1) : "") + String.fromCharCode(65 + (i % 26));
}
