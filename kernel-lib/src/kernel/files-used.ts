import { existsSync, readFileSync, statSync } from "node:fs";
import { basename, dirname, isAbsolute, join, relative, resolve, sep } from "node:path";
import { MeasurementError } from "../measurement-error.js";
import { parseChecksums, writeChecksums } from "../survey/checksums.js";
import { checksumFile } from "../survey/files.js";
import { sumOf } from "./archive-contents.js";
import type { ArchivedFile } from "./archive-file.js";
import type { Notebook } from "./notebook.js";
import type { DataFile } from "./report.js";

/** A file that a cell names, and where. */
export interface NamedFile {
  readonly path: string;
  /** as it stands in the cell */
  readonly name: string;
  /** place of the cell among all cells, from 1 */
  readonly cell: number;
}

/**
 * The files that a notebook names and that are there, each once: sheets in its code, pictures in its text. A path that is
 * put together while the cells run is not seen.
 *
 * @param notebookPath whole path of the notebook
 */
export function filesNamed(notebookPath: string, notebook: Notebook): readonly NamedFile[] {
  const named = notebook.cells.flatMap((cell, i) =>
    namesIn(cell.source, cell.cell_type === "code").map((name) => ({
      path: resolve(dirname(notebookPath), name),
      name,
      cell: i + 1,
    })),
  );
  const first = new Map(named.reverse().map((file) => [file.path, file]));
  return [...first.values()].reverse().filter(({ path }) => isFile(path) && !path.endsWith(".ipynb"));
}

/** The data that a notebook names, with the checksums of the files as they are now. */
export function dataNamed(notebookPath: string, notebook: Notebook): readonly DataFile[] {
  return filesNamed(notebookPath, notebook)
    .filter(({ path }) => !/\.(?:svg|png|jpe?g|gif)$/i.test(path))
    .map(({ path }) => ({ name: basename(path), sha256: sumOf(readFileSync(path)) }));
}

/** @throws MeasurementError `outside` where a named file lies beyond the project */
export function needInside(project: string, files: readonly NamedFile[]): void {
  const outside = files.find(({ path }) => !isBelow(project, path));
  if (outside === undefined) return;
  throw new MeasurementError(
    "outside",
    `pack: cell ${outside.cell} names ${outside.name}, which lies outside the folder ${project}; copy it into data/ and name it from there`,
  );
}

/** Files of a project as an archive holds them, with the lines of the lists of closed sheets that belong to them. */
export function archivedFiles(project: string, paths: readonly string[]): readonly ArchivedFile[] {
  const plain = paths.filter((path) => !path.endsWith(`${sep}${checksumFile}`));
  const folders = [...new Set(plain.map((path) => dirname(path)))];
  const lists = folders.flatMap((folder) => {
    const list = join(folder, checksumFile);
    if (!existsSync(list)) return [];
    const rows = parseChecksums(readFileSync(list, "utf8")).filter(({ file }) => plain.includes(join(folder, file)));
    return rows.length === 0 ? [] : [{ path: pathIn(project, list), bytes: Buffer.from(writeChecksums(rows), "utf8") }];
  });
  return [...plain.map((path) => ({ path: pathIn(project, path), bytes: readFileSync(path) })), ...lists];
}

/** A path below a folder with forward strokes. */
export function pathIn(project: string, path: string): string {
  return relative(project, path).split(sep).join("/");
}

export function isBelow(folder: string, path: string): boolean {
  const way = relative(folder, path);
  return way !== "" && way !== ".." && !way.startsWith(`..${sep}`) && !isAbsolute(way);
}

/** texts in quotation marks of code; targets of links and pictures of a text */
function namesIn(source: string, isCode: boolean): readonly string[] {
  const found = isCode ? source.matchAll(/(["'`])((?:(?!\1)[^\\\n])+)\1/g) : source.matchAll(/\]\(()([^()\s]+)\)/g);
  return [...found].map(([, , name = ""]) => name).filter((name) => /\.\w+$/.test(name) && !/^\w+:\/\//.test(name));
}

function isFile(path: string): boolean {
  return existsSync(path) && statSync(path).isFile();
}
