import { nodeVersion, packageVersion } from "./package-files.js";
import { type Cell, Table } from "./table.js";

/** Anything that knows the file it was read from: a survey, a record. */
export interface FromFile {
  readonly file?: FileUsed | undefined;
}

export interface FileUsed {
  readonly name: string;
  /** checksum of the bytes read, in hexadecimal */
  readonly sha256: string;
  /** "open", "closed", "changed" … */
  readonly state: string;
  /** what sort of file; a sheet unless said otherwise */
  readonly kind?: string;
}

/**
 * What a result was computed with: versions, and the checksums of the data files of the surveys and records given.
 *
 * @example
 * `${versions({ file: { name: "table-before.csv", sha256: "ab".repeat(32), state: "closed" } })}`.split("\n").length // => 6
 */
export function versions(...used: readonly FromFile[]): Table {
  const files = used.flatMap(({ file }) => (file === undefined ? [] : [file]));
  const rows: Cell[][] = [
    ["Node", nodeVersion(), "–"],
    ["dialbook", packageVersion("dialbook"), "–"],
    ["tslab", packageVersion("tslab"), "–"],
    ...files.map(({ name, sha256, state, kind = "sheet" }) => [
      name,
      `${kind}: ${state}`,
      `SHA-256 ${sha256.slice(0, 16)}…`,
    ]),
  ];
  return new Table({
    caption: "computed with",
    columns: [
      { heading: "what" },
      { heading: "version or state", align: "left" },
      { heading: "checksum", align: "left" },
    ],
    rows,
  });
}
