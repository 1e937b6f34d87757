/** A place in a cell, both counted from 1. */
export interface CellPlace {
  readonly line: number;
  readonly column: number;
}

interface Token extends CellPlace {
  readonly text: string;
}

/** beyond this many tokens a cell is not matched: the table of the match grows with the square */
const longest = 3000;

/**
 * The place in a cell that a place in its compiled text came from.
 *
 * The compiler of the cells gives no source map. It keeps the order of what was typed, drops types and adds prefixes,
 * so the longest common sequence of tokens pairs the two texts; the place is that of the paired token nearest to it.
 */
export function placeInCell(source: string, compiled: string, at: CellPlace): CellPlace | undefined {
  const from = tokens(source);
  const to = tokens(compiled);
  if (from.length === 0 || from.length > longest || to.length > longest) return undefined;
  const pairs = pair(from, to);
  const index = to.findIndex(({ line, column, text }) => line === at.line && column + text.length > at.column);
  if (index < 0) return undefined;
  const line = to[index]!.line;
  for (let i = index; to[i]?.line === line; i++) if (pairs[i]) return place(pairs[i]!);
  for (let i = index - 1; to[i]?.line === line; i--) if (pairs[i]) return place(pairs[i]!);
  return undefined;
}

function place({ line, column }: Token): CellPlace {
  return { line, column };
}

function tokens(text: string): Token[] {
  return text.split("\n").flatMap((row, index) =>
    Array.from(row.matchAll(/[\p{L}_$][\p{L}\p{N}_$]*|\d[\w.]*|"(?:\\.|[^"\\])*"|'(?:\\.|[^'\\])*'|\S/gu), (found) => ({
      text: found[0],
      line: index + 1,
      column: found.index + 1,
    })),
  );
}

/** For each token of `to` its partner in `from`, along a longest common sequence. */
function pair(from: readonly Token[], to: readonly Token[]): (Token | undefined)[] {
  const width = to.length + 1;
  const length = new Uint16Array((from.length + 1) * width);
  for (let i = from.length - 1; i >= 0; i--) {
    for (let j = to.length - 1; j >= 0; j--) {
      length[i * width + j] =
        from[i]!.text === to[j]!.text
          ? length[(i + 1) * width + j + 1]! + 1
          : Math.max(length[(i + 1) * width + j]!, length[i * width + j + 1]!);
    }
  }
  const pairs: (Token | undefined)[] = new Array(to.length).fill(undefined);
  for (let i = 0, j = 0; i < from.length && j < to.length; ) {
    if (from[i]!.text === to[j]!.text) pairs[j++] = from[i++];
    else if (length[(i + 1) * width + j]! >= length[i * width + j + 1]!) i++;
    else j++;
  }
  return pairs;
}
