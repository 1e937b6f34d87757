/** A table with its column alignments settled and its cells printed. */
export interface PrintedTable {
  readonly caption: string;
  readonly columns: readonly {
    readonly heading: string;
    readonly unit?: string;
    readonly cellUnit?: string;
    readonly asWritten?: boolean;
    readonly align: "left" | "right";
  }[];
  readonly rows: readonly (readonly string[])[];
  readonly foot: readonly (readonly string[])[];
  readonly notes: readonly string[];
}

/** The text of a table: columns by spacing alone, readable in a terminal and aloud. */
export function tableText({ caption, columns, rows, foot, notes }: PrintedTable): string {
  const head = columns.map(({ heading, unit }) => (unit === undefined ? heading : `${heading}/${unit}`));
  const all = [head, ...rows, ...foot];
  const widths = head.map((_, i) => Math.max(...all.map((row) => width(row[i] ?? ""))));
  const line = (row: readonly string[]): string =>
    row
      .map((cell, i) => pad(cell, widths[i] ?? 0, columns[i]?.align ?? "left"))
      .join("  ")
      .trimEnd();
  return [caption, line(head), ...rows.map(line), ...foot.map(line), ...notes].join("\n");
}

function width(text: string): number {
  return [...text].length;
}

function pad(text: string, size: number, align: "left" | "right"): string {
  const blank = " ".repeat(Math.max(0, size - width(text)));
  return align === "right" ? blank + text : text + blank;
}
