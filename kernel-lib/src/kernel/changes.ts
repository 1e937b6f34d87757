import type { CodeCell, Notebook, Output } from "./notebook.js";

/** What one cell shows now that it did not show before. */
export interface CellChange {
  /** number of the code cell, from 1 */
  readonly cell: number;
  readonly gone: readonly string[];
  readonly now: readonly string[];
}

/**
 * The lines of text that the cells show now and did not show before, cell by cell. Cells are matched by their id, so
 * that a cell put in between does not make everything look changed; those that stopped or never ran are left out, their
 * failure is told elsewhere.
 */
export function changesBetween(before: Notebook, after: Notebook): readonly CellChange[] {
  const old = new Map(codeCells(before).map((cell) => [cell.id, cell]));
  return codeCells(after).flatMap((cell, i) => {
    const past = old.get(cell.id);
    if (past === undefined || hasStopped(past) || hasStopped(cell)) return [];
    const [was, is] = [linesOf(past), linesOf(cell)];
    const gone = without(was, is);
    const now = without(is, was);
    return gone.length + now.length > 0 ? [{ cell: i + 1, gone, now }] : [];
  });
}

/** lines told of one cell; the first ones carry the result */
const mostPerCell = 3;

/** The changes of a chapter as lines for a terminal, a few of each cell; the rest is counted. */
export function changeLines(name: string, changes: readonly CellChange[]): readonly string[] {
  if (changes.length === 0) return [];
  return [name, ...changes.flatMap(cellLines)];
}

function cellLines({ cell, gone, now }: CellChange): readonly string[] {
  const count = Math.max(gone.length, now.length);
  const told = Array.from({ length: Math.min(count, mostPerCell) }, (_, i) => {
    const [was, is] = [gone[i], now[i]].map((line) => line?.replace(/\s{2,}/g, "  "));
    const from = commonStart(was, is);
    return [
      ...(was === undefined ? [] : [`  cell ${cell}  was  ${short(was, from)}`]),
      ...(is === undefined ? [] : [`          now  ${short(is, from)}`]),
    ];
  }).flat();
  return count > mostPerCell ? [...told, `          and ${count - mostPerCell} more lines`] : told;
}

/** how much of two lines is the same from the start, less a few words to read on from */
function commonStart(was: string | undefined, now: string | undefined): number {
  if (was === undefined || now === undefined) return 0;
  let same = 0;
  while (same < was.length && was[same] === now[same]) same++;
  return same > 100 ? was.lastIndexOf(" ", same - 30) + 1 : 0;
}

/** no longer than a terminal's line or two */
function short(line: string, from: number): string {
  const text = from > 0 ? `… ${line.slice(from)}` : line;
  return text.length > 150 ? `${text.slice(0, 149)}…` : text;
}

function codeCells({ cells }: Notebook): readonly CodeCell[] {
  return cells.filter((cell): cell is CodeCell => cell.cell_type === "code");
}

/** True where a cell failed, or did not run because an earlier one did. */
function hasStopped(cell: CodeCell): boolean {
  return cell.execution_count === null || cell.outputs.some((output) => output.output_type === "error");
}

/** True where every cell of a notebook ran. */
export function ranWhole(notebook: Notebook): boolean {
  return codeCells(notebook).every((cell) => !hasStopped(cell));
}

function linesOf({ outputs }: CodeCell): readonly string[] {
  return outputs
    .flatMap((output) => textOf(output).split("\n"))
    .map((line) => line.trim())
    .filter((line) => line !== "");
}

function textOf(output: Output): string {
  if (output.output_type === "stream") return output.text;
  if (output.output_type === "error") return "";
  return String(output.data["text/plain"] ?? "");
}

function without(lines: readonly string[], others: readonly string[]): readonly string[] {
  const known = new Set(others);
  return lines.filter((line) => !known.has(line));
}
