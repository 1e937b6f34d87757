import type { CodeCell, Notebook, Output } from "./notebook.js";

/** A code cell that shows something else in the second run. */
export interface CellDifference {
  /** number of the code cell, from 1 */
  readonly cell: number;
  readonly kind: "number" | "words" | "figure" | "stopped";
  readonly was: string;
  readonly now: string;
}

/** Two runs of one notebook held against each other. */
export interface RunComparison {
  readonly cells: number;
  /** numbers in texts and tables that were compared as printed */
  readonly numbers: number;
  /** live figures whose data were compared */
  readonly figures: number;
  readonly differences: readonly CellDifference[];
}

/**
 * Holds two runs of the same notebook against each other: every number that the cells printed, to the digit; the words
 * around them; the numbers behind the figures to 1·10⁻⁹ of their size. The table of versions is left out but for the
 * checksums of the data.
 */
export function compareRuns(before: Notebook, after: Notebook): RunComparison {
  const [was, is] = [codeCells(before), codeCells(after)];
  const pairs = Array.from({ length: Math.max(was.length, is.length) }, (_, i) => [was[i], is[i]] as const);
  const differences = pairs.flatMap(([old, now], i) => differencesOf(i + 1, old, now));
  const lines = was.flatMap(linesOf);
  return {
    cells: was.length,
    numbers: lines.flatMap(numbersOf).length,
    figures: was.flatMap(figuresOf).length,
    differences,
  };
}

function differencesOf(cell: number, old: CodeCell | undefined, now: CodeCell | undefined): CellDifference[] {
  const stop = [stateOf(old), stateOf(now)] as const;
  if (stop[0] !== stop[1]) return [{ cell, kind: "stopped", was: stop[0], now: stop[1] }];
  if (!old || !now) return [];
  return [...textDifferences(cell, linesOf(old), linesOf(now)), ...figureDifferences(cell, old, now)];
}

function stateOf(cell: CodeCell | undefined): string {
  if (cell === undefined) return "no such cell";
  if (cell.source.trim() === "") return "blank";
  if (cell.outputs.some((output) => output.output_type === "error")) return "stopped";
  return cell.execution_count === null ? "not run" : "ran";
}

function textDifferences(cell: number, was: readonly string[], now: readonly string[]): CellDifference[] {
  return Array.from({ length: Math.max(was.length, now.length) }, (_, i) => [was[i] ?? "", now[i] ?? ""] as const)
    .filter(([old, fresh]) => old !== fresh)
    .map(([old, fresh]) => {
      const sameNumbers = numbersOf(old).join(" ") === numbersOf(fresh).join(" ");
      return { cell, kind: sameNumbers ? "words" : "number", was: old, now: fresh };
    });
}

function figureDifferences(cell: number, old: CodeCell, now: CodeCell): CellDifference[] {
  const [was, is] = [figuresOf(old), figuresOf(now)];
  return Array.from({ length: Math.max(was.length, is.length) }, (_, i) => i)
    .filter((i) => !agree(was[i], is[i]))
    .map((i) => ({ cell, kind: "figure", was: nameOf(was[i]), now: nameOf(is[i]) }));
}

function figuresOf({ outputs }: CodeCell): readonly unknown[] {
  return outputs.flatMap((output) => {
    const figure = "data" in output ? output.data["application/vnd.plotly.v1+json"] : undefined;
    return figure === undefined ? [] : [figure];
  });
}

function nameOf(figure: unknown): string {
  if (figure === undefined) return "no figure";
  const title = /"title":\{[^{}]*?"text":"([^"]*)"/.exec(JSON.stringify(figure))?.[1];
  return `figure ${title === undefined ? "without a title" : `"${title.replace(/<[^>]*>.*$/, "")}"`}`;
}

/** the same shape and words, numbers to 1·10⁻⁹ of their size */
function agree(a: unknown, b: unknown): boolean {
  if (typeof a === "number" && typeof b === "number") {
    return Math.abs(a - b) <= 1e-9 * Math.max(1, Math.abs(a), Math.abs(b));
  }
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return a === b;
  const [left, right] = [Object.entries(a), Object.entries(b)];
  return left.length === right.length && left.every(([key, value]) => key in b && agree(value, Reflect.get(b, key)));
}

function numbersOf(line: string): readonly string[] {
  return line.match(/[−-]?\d+(?:[.,]\d+)*(?:[eE][+−-]?\d+)?/g) ?? [];
}

function linesOf({ outputs }: CodeCell): readonly string[] {
  return outputs.flatMap((output) => {
    const lines = textOf(output)
      .split("\n")
      .filter((line) => line.trim() !== "");
    return lines[0] === "computed with" ? lines.filter((line) => line.includes("SHA-256")) : lines;
  });
}

function textOf(output: Output): string {
  if (output.output_type === "stream") return output.text;
  return output.output_type === "error" ? `${output.ename}: ${output.evalue}` : String(output.data["text/plain"] ?? "");
}

function codeCells({ cells }: Notebook): readonly CodeCell[] {
  return cells.filter((cell): cell is CodeCell => cell.cell_type === "code");
}
