import { inspect } from "node:util";
import { visible } from "../figure/markup.js";
import { type CellPlace, placeInCell } from "./cell-lines.js";

/** Why a cell stopped, as the notebook shows it and as the runner reports it. */
export interface CellError {
  readonly ename: string;
  readonly evalue: string;
  readonly traceback: readonly string[];
  /** lines of libraries it passed through, named without the folders of this machine; not part of the traceback */
  readonly hidden?: readonly string[];
  /** where in the cell that ran, when known */
  readonly place?: CellPlace;
}

/** What was typed and what it was compiled to, by cell number. */
export type CompiledCells = ReadonlyMap<number, { readonly source: string; readonly compiled: string }>;

interface Frame extends CellPlace {
  readonly cell: number;
}

/** The name under which the engine knows a cell's compiled text; it appears in stack traces. */
export function cellFile(cell: number): string {
  return `cell-${cell}.ts`;
}

/** Texts of sheets and files stand in messages: signs that a terminal or a page would obey are written out. */
export function withSignsVisible({ ename, evalue, traceback, hidden, ...rest }: CellError): CellError {
  return {
    ...rest,
    ename: visible(ename),
    evalue: visible(evalue),
    traceback: traceback.map(visible),
    ...(hidden && { hidden: hidden.map(visible) }),
  };
}

/** Describes a thrown value: its sentence, and the lines of cells it passed through; no line of a library. */
export function thrownError(thrown: unknown, cell: number, cells: CompiledCells): CellError {
  const { ename, evalue } = nameAndText(thrown);
  const frames = cellFrames(thrown, cells);
  const own = frames.find((frame) => frame.cell === cell);
  const hidden = libraryFrames(thrown);
  return withSignsVisible({
    ename,
    evalue,
    traceback: [`${ename}: ${evalue}`, ...frames.map((frame) => frameLine(frame, cell, cells)), ...cause(thrown)],
    ...(hidden.length > 0 && { hidden }),
    ...(own && { place: { line: own.line, column: own.column } }),
  });
}

function nameAndText(thrown: unknown): { ename: string; evalue: string } {
  if (isInterrupt(thrown)) return { ename: "Interrupted", evalue: "the cell was stopped before it had finished" };
  if (thrown instanceof Error)
    return { ename: String(thrown.name || "Error"), evalue: withoutPaths(String(thrown.message)) };
  return { ename: "Thrown value", evalue: typeof thrown === "string" ? thrown : inspect(thrown) };
}

function isInterrupt(thrown: unknown): boolean {
  if (!(thrown instanceof Error)) return false;
  return (
    Reflect.get(thrown, "code") === "ERR_SCRIPT_EXECUTION_INTERRUPTED" ||
    thrown.message === "Interrupted asynchronously"
  );
}

/** Node lists the files that asked for a missing module; they say where this machine keeps things and nothing else. */
function withoutPaths(message: string): string {
  return message.replace(/\nRequire stack:[\s\S]*$/, "");
}

function cause(thrown: unknown): string[] {
  if (!(thrown instanceof Error) || thrown.cause === undefined) return [];
  const { ename, evalue } = nameAndText(thrown.cause);
  return [`  because of ${ename}: ${evalue}`];
}

function cellFrames(thrown: unknown, cells: CompiledCells): Frame[] {
  const found: Frame[] = [];
  for (const [, cell, line, column] of stackBelow(thrown).matchAll(/\bcell-(\d+)\.ts:(\d+):(\d+)/g)) {
    const known = cells.get(Number(cell));
    const at = known && placeInCell(known.source, known.compiled, { line: Number(line), column: Number(column) });
    const last = found.at(-1);
    if (at && !(last?.cell === Number(cell) && last.line === at.line)) found.push({ cell: Number(cell), ...at });
  }
  return found.slice(0, 8);
}

/** Frames of packages; those of Node itself and of what runs the cells tell a reader nothing. */
function libraryFrames(thrown: unknown): readonly string[] {
  const frames = Array.from(
    stackBelow(thrown).matchAll(/^\s+at (?:(.*) \()?(?:file:\/\/)?(\/[^\n]*|[A-Za-z]:[^\n]*?):(\d+):\d+\)?$/gm),
  );
  return frames.flatMap(([, name, path = "", line]) => {
    const file = path.replaceAll("\\", "/");
    const short = /.*\/node_modules\/(.*)/.exec(file)?.[1] ?? /.*\/kernel-lib\/dist\/(.*)/.exec(file)?.[1];
    if (short === undefined || /^(?:tslab|@tslab|zeromq)\/|^kernel\//.test(short)) return [];
    return [`${name ?? "(no name)"}, ${short} line ${line}`];
  });
}

/** The places a thrown error passed through; what its message says is none of them. */
function stackBelow(thrown: unknown): string {
  if (!(thrown instanceof Error) || typeof thrown.stack !== "string") return "";
  const { stack } = thrown;
  const message = String(thrown.message);
  const at = stack.indexOf(message);
  return at < 0 ? stack : stack.slice(at + message.length);
}

function frameLine(frame: Frame, cell: number, cells: CompiledCells): string {
  const where = frame.cell === cell ? "this cell" : `cell [${frame.cell}]`;
  const text = cells.get(frame.cell)?.source.split("\n")[frame.line - 1]?.trim() ?? "";
  return `  line ${frame.line} of ${where}: ${text}`;
}
