import { MeasurementError } from "../measurement-error.js";

/** One closed sheet. */
export interface ClosedSheet {
  readonly file: string;
  /** year-month-day */
  readonly closed: string;
  readonly sha256: string;
}

const heading = "file,closed,sha256";

/** Reads the list of closed sheets; a list that cannot be read is refused, because an open sheet must not pass for a
 * closed one. */
export function parseChecksums(text: string): readonly ClosedSheet[] {
  const [first, ...rows] = text.replace(/^\uFEFF/, "").split(/\r\n|\n/);
  if (first !== heading)
    refuse(1, `the heading is ${JSON.stringify((first ?? "").slice(0, 60))}; it must be ${heading}`);
  return rows.flatMap((row, i) => {
    if (row.trim() === "") return [];
    const found = /^(?:"((?:[^"]|"")+)"|([^",]+)),(\d{4}-\d{2}-\d{2}),([0-9a-f]{64})$/.exec(row.trim());
    if (!found)
      return refuse(
        i + 2,
        `${JSON.stringify(row.slice(0, 60))} is not a file name, a date and a checksum; put the line back as it was`,
      );
    return [{ file: found[1]?.replaceAll('""', '"') ?? found[2]!, closed: found[3]!, sha256: found[4]! }];
  });
}

export function writeChecksums(entries: readonly ClosedSheet[]): string {
  const name = (file: string) => (/[",]/.test(file) ? `"${file.replaceAll('"', '""')}"` : file);
  return `${[heading, ...entries.map((e) => `${name(e.file)},${e.closed},${e.sha256}`)].join("\n")}\n`;
}

function refuse(line: number, sentence: string): never {
  throw new MeasurementError("checksums", `checksums.csv line ${line}: ${sentence}`);
}
