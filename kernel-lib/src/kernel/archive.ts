import { randomUUID } from "node:crypto";
import { existsSync, readdirSync, readFileSync, renameSync, rmSync, statSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { MeasurementError } from "../measurement-error.js";
import { type Contents, contentsFile, contentsOf, readContents } from "./archive-contents.js";
import { type ArchivedFile, archiveOf, filesOf } from "./archive-file.js";
import { pathProblem } from "./archive-path.js";
import { archivedFiles, filesNamed, isBelow, needInside } from "./files-used.js";
import { fromHere } from "./from-here.js";
import { notebookText, readNotebook } from "./notebook-file.js";
import type { RanChapter } from "./ran-chapter.js";
import { versionsHere } from "./versions-here.js";
import { makeFolder, notWritten, writeWhole } from "./whole-file.js";

/** An archive after it was read: what it says of itself, and its files. */
export interface Archive {
  readonly contents: Contents;
  readonly files: readonly ArchivedFile[];
}

/** The notebooks with every file they name, and the project's lock of versions where it has one. */
export function gather(
  project: string,
  notebooks: readonly string[],
  more: readonly string[],
): readonly ArchivedFile[] {
  const outside = [...notebooks, ...more].find((path) => !isBelow(project, path));
  if (outside !== undefined) {
    throw new MeasurementError(
      "outside",
      `pack: ${outside} lies outside the folder ${project}; put it there, or run the command where it lies`,
    );
  }
  const named = notebooks.flatMap((path) => filesNamed(path, readNotebook(path)));
  needInside(project, named);
  const lock = [join(project, "package-lock.json")].filter((path) => existsSync(path));
  return archivedFiles(project, [...new Set([...notebooks, ...named.map(({ path }) => path), ...more, ...lock])]);
}

/** The archive of files and of the notebooks as they ran. */
export function pack(
  name: string,
  files: readonly ArchivedFile[],
  ran: readonly { readonly path: string; readonly chapter: RanChapter }[],
): Uint8Array {
  const texts = new Map(ran.map(({ path, chapter }) => [path, notebookText(chapter.notebook)]));
  const fresh = files.map(({ path, bytes }) => ({ path, bytes: Buffer.from(texts.get(path) ?? bytes) }));
  const all = [...fresh, { path: "READ-ME.txt", bytes: Buffer.from(readMe(name), "utf8") }];
  const contents = contentsOf(all, { notebooks: [...texts.keys()], versions: versionsHere() });
  return archiveOf(name, [contents, ...all]);
}

/** Reads an archive, packed or unpacked, and holds every file against its checksum. */
export function readArchive(path: string): Archive {
  if (!existsSync(path)) {
    throw new MeasurementError(
      "no-archive",
      `${fromHere(path)}: there is no such archive; give the path of a .tgz file`,
    );
  }
  const isFolder = statSync(path).isDirectory();
  const files = isFolder ? filesInFolder(path) : filesOf(readFileSync(path), basename(path));
  return { contents: readContents(files, basename(path)), files };
}

/** only the files that its list names: what was added since does not belong to it */
function filesInFolder(folder: string): readonly ArchivedFile[] {
  const list = join(folder, contentsFile);
  if (!existsSync(list)) return [];
  const named = [...readFileSync(list, "utf8").matchAll(/"path": ("(?:[^"\\]|\\.)*")/g)].map(
    ([, text = '""']) => JSON.parse(text) as string,
  );
  return [contentsFile, ...named]
    .filter((path) => pathProblem(path) === undefined && existsSync(join(folder, path)))
    .map((path) => ({ path, bytes: readFileSync(join(folder, path)) }));
}

/**
 * Writes the files of an archive below a folder that is not there yet or is empty: all of them or none.
 *
 * @throws MeasurementError `folder-taken`, `not-written`
 */
export function writeFolder(folder: string, files: readonly ArchivedFile[]): void {
  if (existsSync(folder) && (!statSync(folder).isDirectory() || readdirSync(folder).length > 0)) {
    throw new MeasurementError(
      "folder-taken",
      `${fromHere(folder)}: is there already; name another folder, or move it away`,
    );
  }
  let part: string | undefined;
  try {
    makeFolder(dirname(folder));
    part = join(dirname(folder), `.${basename(folder)}.${randomUUID()}`);
    for (const { path, bytes } of files) writeWhole(join(part, path), bytes);
    if (existsSync(folder)) rmSync(folder, { recursive: true });
    renameSync(part, folder);
  } catch (error) {
    throw error instanceof MeasurementError ? error : notWritten(fromHere(folder), error);
  } finally {
    if (part !== undefined) rmSync(part, { recursive: true, force: true });
  }
}

function readMe(name: string): string {
  return `${name}: notebooks, their data and the lock of their versions, packed by dialbook

In a clone of Dialbook, with this archive as ${name}.tgz:

    npm ci
    npm run dialbook -- repeat PATH/${name}.tgz

The second command runs the notebooks again and says whether the numbers are the same.
The notebooks are programs: run them only when you trust the person they come from.
`;
}
