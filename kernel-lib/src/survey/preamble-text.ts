import { refuseSheet, shown } from "./sheet-error.js";

export function isPreamble(line: string): boolean {
  return /^\s*"?#/.test(line);
}

export function isRowOfBlanks(line: string): boolean {
  return /^[\s,;"]*$/.test(line);
}

/** What a preamble line says: quotation marks and the separators that a spreadsheet adds are taken off */
export function preambleText(line: string, name: string, at: number): string {
  const bare = line.trim();
  if (!bare.startsWith('"')) return bare.replace(/[,;\t\s]+$/, "").replace(/^#\s*/, "");
  const quoted = /^"((?:[^"]|"")*)"[,;\t\s]*$/.exec(bare);
  if (!quoted) {
    if (isRowOfBlanks(line)) return "";
    refuseSheet(
      "quotation-mark",
      { name, line: at },
      `${shown(bare)} opens a quotation mark and does not close it at the end; close it, or leave it out`,
    );
  }
  return quoted[1]!
    .replaceAll('""', '"')
    .replace(/^\s*#\s*/, "")
    .trim();
}
