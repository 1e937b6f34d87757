import { isPreamble, isRowOfBlanks, preambleText } from "./preamble-text.js";
import { refuseSheet, shown } from "./sheet-error.js";
import {
  bare,
  cellText,
  endOf,
  headLine,
  joinQuoted,
  keyOf,
  oneLine,
  spansOf,
  withValue,
  writtenCell,
} from "./sheet-record.js";

/** One change to the text of a sheet: a cell of a row, or what a line above the heading says, or a note more. */
export type SheetEdit =
  | { readonly row: number; readonly column: number; readonly to: string }
  | { readonly head: string; readonly to: string }
  | { readonly note: string };

/** A line `# key: value` above the heading. */
export interface HeadLine {
  /** in small letters, single blanks */
  readonly key: string;
  /** as it is written */
  readonly written: string;
  readonly value: string;
  /** number of the line, from 1 */
  readonly line: number;
}

const separators = ["\t", ";", ","] as const;

/**
 * The text of a sheet held line by line, so that one cell can be changed and every other byte stays as it is: line ends,
 * quotation marks, blanks, columns that belong to nothing here.
 */
export class SheetText {
  private constructor(
    readonly name: string,
    /** lines with their ends; a row with a line end inside quotation marks is one */
    private readonly records: readonly string[],
    private readonly headingAt: number,
    private readonly rowAt: readonly number[],
    readonly separator: string,
    /** rows cut into cells, with the record they were cut from: shared by the states of one sheet */
    private readonly cut = new Map<number, { readonly record: string; readonly cells: readonly string[] }>(),
  ) {}

  /** @throws MeasurementError `not-text`, `empty-sheet` where there is no heading */
  static of(text: string, name: string): SheetText {
    if (text.includes("\0")) {
      refuseSheet(
        "not-text",
        { name },
        "holds bytes that are no text; save the sheet as CSV (UTF-8) and open that file",
      );
    }
    const lines = text.match(/[^\r\n]*(?:\r\n|\n|\r)|[^\r\n]+$/g) ?? [];
    const first = lines.findIndex((line) => isHeading(line));
    if (first < 0) {
      refuseSheet(
        "empty-sheet",
        { name },
        "holds no heading; write place,x/mm,y/mm,z/um,pass and a row for each reading",
      );
    }
    const records = [...lines.slice(0, first), ...joinQuoted(lines.slice(first))];
    const rows: number[] = [];
    for (let i = first + 1; i < records.length; i++) if (!isRowOfBlanks(bare(records[i]!))) rows.push(i);
    const separator = separators.find((s) => lines[first]!.includes(s)) ?? ",";
    return new SheetText(name, records, first, rows, separator);
  }

  get text(): string {
    return this.records.join("");
  }
  /** how many rows follow the heading, empty ones not counted */
  get rows(): number {
    return this.rowAt.length;
  }
  get heading(): readonly string[] {
    return this.cells(this.headingAt);
  }
  get headingLine(): number {
    return this.lineOf(this.headingAt);
  }

  /** cells of a row, quotation marks and blanks around them taken off */
  row(i: number): readonly string[] {
    return this.cells(this.rowAt[i]!);
  }

  /** number of the line of a row, from 1 */
  line(row: number): number {
    return this.lineOf(this.rowAt[row]!);
  }

  /** what stands above the heading, line for line, for the readers of a preamble */
  get preamble(): readonly { readonly line: number; readonly text: string }[] {
    return this.records
      .slice(0, this.headingAt)
      .map((record, i) => ({ line: i + 1, text: preambleText(bare(record).replace(/^\uFEFF/, ""), this.name, i + 1) }))
      .filter(({ text }) => text !== "");
  }

  /** the lines `# key: value`, those with nothing behind the colon too */
  get head(): readonly HeadLine[] {
    return this.preamble.flatMap(({ line, text }) => {
      const colon = text.indexOf(":");
      if (colon < 1) return [];
      const written = text.slice(0, colon).trim();
      return [{ key: keyOf(written), written, value: text.slice(colon + 1).trim(), line }];
    });
  }

  /** The same sheet with some cells or lines changed, every other byte as it was. */
  edited(edits: readonly SheetEdit[]): SheetText {
    const records = [...this.records];
    const fresh: string[] = [];
    for (const edit of edits) {
      if ("row" in edit) records[this.recordOf(edit.row)] = this.withCell(records, edit);
      else if ("note" in edit) fresh.push(this.headRecord("note", edit.note));
      else this.editHead(records, fresh, edit);
    }
    if (fresh.length > 0) return SheetText.of(inserted(records, this.headingAt, fresh).join(""), this.name);
    return new SheetText(this.name, records, this.headingAt, this.rowAt, this.separator, this.cut);
  }

  private editHead(records: string[], fresh: string[], { head, to }: { head: string; to: string }): void {
    const found = this.head.find(({ key }) => key === keyOf(head));
    if (found === undefined) fresh.push(this.headRecord(head, to));
    else records[found.line - 1] = withValue(records[found.line - 1]!, oneLine(to));
  }

  private headRecord(key: string, value: string): string {
    return `${headLine(`# ${key}:`, oneLine(value), false)}${endOf(this.records[this.headingAt]!) || "\n"}`;
  }

  private recordOf(row: number): number {
    const at = this.rowAt[row];
    if (at !== undefined) return at;
    return refuseSheet(
      "no-such-row",
      { name: this.name },
      `row ${row + 1} is asked for and the sheet has ${this.rows}; open the sheet again`,
    );
  }

  private withCell(
    records: readonly string[],
    { row, column, to }: { row: number; column: number; to: string },
  ): string {
    const record = records[this.rowAt[row]!]!;
    const span = spansOf(bare(record), this.separator)[column];
    if (span === undefined) {
      return refuseSheet(
        "row-width",
        { name: this.name, line: this.line(row) },
        `has no cell ${column + 1} to write ${shown(to)} in; fill the row up to the width of the heading, blank cells included`,
      );
    }
    return record.slice(0, span[0]) + writtenCell(to, this.separator) + record.slice(span[1]);
  }

  private cells(at: number): readonly string[] {
    const record = this.records[at]!;
    const known = this.cut.get(at);
    if (known?.record === record) return known.cells;
    const line = bare(record);
    const cells = spansOf(line, this.separator).map(([from, to]) => cellText(line.slice(from, to)));
    this.cut.set(at, { record, cells });
    return cells;
  }

  private lineOf(record: number): number {
    let line = 1;
    for (let i = 0; i < record; i++) line += this.records[i]!.match(/\r\n|\n|\r/g)?.length ?? 0;
    return line;
  }
}

function isHeading(line: string): boolean {
  const text = bare(line).replace(/^\uFEFF/, "");
  return text.trim() !== "" && !isPreamble(text) && !isRowOfBlanks(text);
}

function inserted(records: readonly string[], at: number, fresh: readonly string[]): string[] {
  return [...records.slice(0, at), ...fresh, ...records.slice(at)];
}
