/** One line of a sheet as text: where its cells lie, what they say, how they are written. */

export function keyOf(written: string): string {
  return written
    .trim()
    .toLowerCase()
    .replace(/[\s_]+/g, " ");
}

/** lines put together again where a quotation mark is still open at the end */
export function joinQuoted(lines: readonly string[]): string[] {
  const records: string[] = [];
  let open = "";
  for (const line of lines) {
    open += line;
    if ((open.match(/"/g)?.length ?? 0) % 2 === 1) continue;
    records.push(open);
    open = "";
  }
  return open === "" ? records : [...records, open];
}

export function bare(record: string): string {
  return record.replace(/(?:\r\n|\n|\r)$/, "");
}

export function endOf(record: string): string {
  return record.slice(bare(record).length);
}

/** where each cell of a row begins and ends */
export function spansOf(line: string, separator: string): readonly (readonly [from: number, to: number])[] {
  const spans: (readonly [number, number])[] = [];
  let from = line.startsWith("\uFEFF") ? 1 : 0;
  for (;;) {
    let to = from;
    if (line[from] === '"') {
      for (to++; to < line.length && (line[to] !== '"' || line[to + 1] === '"'); to++) if (line[to] === '"') to++;
      to++;
    }
    const next = line.indexOf(separator, to);
    const end = next < 0 ? line.length : next;
    spans.push([from, end]);
    if (next < 0) return spans;
    from = next + 1;
  }
}

export function cellText(cell: string): string {
  const quoted = /^"((?:[^"]|"")*)"\s*$/.exec(cell);
  return (quoted ? quoted[1]!.replaceAll('""', '"') : cell).trim();
}

/** a cell as a sheet holds it: in quotation marks where the text would be taken for more than one cell */
export function writtenCell(value: string, separator: string): string {
  const text = value.replace(/[\r\n]+/g, " ").trim();
  return text.includes(separator) || /["\t]/.test(text) || text.startsWith("#")
    ? `"${text.replaceAll('"', '""')}"`
    : text;
}

export function oneLine(text: string): string {
  return text.replace(/\s+/g, " ").trim();
}

/** a line above the heading with another value, the separators that a spreadsheet put behind it kept */
export function withValue(record: string, value: string): string {
  const line = bare(record);
  const quoted = /^(\s*)"(\s*#[^:]*:)(?:[^"]|"")*"([,;\t\s]*)$/.exec(line);
  const plain = quoted ?? /^(\s*)(#[^:]*:).*?([,;\t\s]*)$/.exec(line)!;
  const behind = plain[3]!.trim() === "" ? "" : plain[3]!;
  return plain[1]! + headLine(plain[2]!, value, quoted !== null) + behind + endOf(record);
}

export function headLine(key: string, value: string, quoted: boolean): string {
  const said = value === "" ? key : `${key} ${value}`;
  return quoted || /[,;]$/.test(said) ? `"${said.replaceAll('"', '""')}"` : said;
}
