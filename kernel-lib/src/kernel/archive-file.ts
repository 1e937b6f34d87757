import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { gunzipSync, gzipSync } from "node:zlib";
import { MeasurementError } from "../measurement-error.js";
import { pathProblem } from "./archive-path.js";
import { loadTar, type TarEntry } from "./tar-package.js";

/** A file of an archive: its path with forward strokes, below the one folder that the archive holds. */
export interface ArchivedFile {
  readonly path: string;
  readonly bytes: Uint8Array;
}

/** an archive of notebooks and sheets is far below these; a larger one is a mistake or a trick */
const mostBytes = 256e6;
const mostFiles = 5000;

/**
 * The files as a gzipped tar with one folder in it. The same files give the same bytes: sorted, without times, owners or
 * the name of a system.
 *
 * @param folder name of the one folder
 */
export function archiveOf(folder: string, files: readonly ArchivedFile[]): Uint8Array {
  const place = mkdtempSync(join(tmpdir(), "dialbook-"));
  try {
    for (const { path, bytes } of files) {
      const file = join(place, folder, path);
      mkdirSync(dirname(file), { recursive: true });
      writeFileSync(file, bytes, { mode: 0o644 });
    }
    const file = join(place, "archive.tar");
    const paths = files.map(({ path }) => `${folder}/${path}`).sort();
    loadTar().create({ cwd: place, file, sync: true, portable: true, strict: true, mtime: new Date(0) }, paths);
    const packed = gzipSync(readFileSync(file), { level: 9 });
    packed[9] = 255;
    return packed;
  } finally {
    rmSync(place, { recursive: true, force: true });
  }
}

/**
 * The files of an archive, all of them looked at before any is written: files only, below one folder, none twice.
 *
 * @param name of the archive, for the sentence of a refusal
 * @throws MeasurementError `archive-corrupt`, `archive-unsafe`, `archive-large`
 */
export function filesOf(packed: Uint8Array, name: string): readonly ArchivedFile[] {
  const files = entriesOf(unpacked(packed, name), name).map(({ path, chunks }) => ({
    path: path.replace(/^[^/]*\//, ""),
    bytes: Buffer.concat(chunks),
    top: path.split("/")[0],
  }));
  const seen = new Set<string>();
  for (const { path, top } of files) {
    if (top !== files[0]?.top)
      refuse("unsafe", `${name}: holds more than one folder; it was not made by dialbook pack`);
    const same = path.normalize("NFC").toLowerCase();
    if (seen.has(same)) refuse("unsafe", `${name}: holds ${show(path)} twice; do not use it, ask for another`);
    seen.add(same);
  }
  return files.map(({ path, bytes }) => ({ path, bytes }));
}

function unpacked(packed: Uint8Array, name: string): Uint8Array {
  try {
    return gunzipSync(packed, { maxOutputLength: mostBytes });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === "ERR_BUFFER_TOO_LARGE") {
      return refuse("large", `${name}: unpacks to more than 256 MB, which no archive of ours does; do not use it`);
    }
    return damaged(name);
  }
}

interface ReadEntry {
  readonly path: string;
  readonly chunks: Uint8Array[];
}

function entriesOf(bytes: Uint8Array, name: string): readonly ReadEntry[] {
  const { Parser } = loadTar();
  const read: ReadEntry[] = [];
  let wrong: unknown;
  const onReadEntry = (entry: TarEntry): void => {
    try {
      const file = accepted(entry, name);
      if (file !== undefined) read.push(file);
      if (read.length > mostFiles)
        refuse("large", `${name}: holds more than ${mostFiles} files, which no archive of ours does; do not use it`);
    } catch (error) {
      wrong ??= error;
    }
    entry.resume();
  };
  const parser = new Parser({ strict: true, onReadEntry });
  parser.on("error", (error) => {
    wrong ??= error;
  });
  parser.end(bytes);
  if (wrong instanceof MeasurementError) throw wrong;
  return wrong !== undefined || read.length === 0 ? damaged(name) : read;
}

/** a file goes on, a folder is passed over, all else is refused */
function accepted(entry: TarEntry, name: string): ReadEntry | undefined {
  const { path, type } = entry;
  const folder = type === "Directory";
  if (!folder && type !== "File" && type !== "OldFile") {
    refuse("unsafe", `${name}: ${show(path)} is a link or a device, and an archive holds files only; do not use it`);
  }
  const problem = pathProblem(folder ? path.replace(/\/$/, "") : path);
  if (problem !== undefined) {
    refuse("unsafe", `${name}: the path ${show(path)} in it ${problem}; nothing was written, do not use it`);
  }
  if (folder) return undefined;
  if (!path.includes("/")) refuse("unsafe", `${name}: ${show(path)} is in no folder; it was not made by dialbook pack`);
  const chunks: Uint8Array[] = [];
  entry.on("data", (bytes) => chunks.push(Uint8Array.from(bytes)));
  return { path, chunks };
}

function damaged(name: string): never {
  return refuse("corrupt", `${name}: is no archive of dialbook, or is damaged; ask for it again`);
}

function refuse(what: "corrupt" | "unsafe" | "large", sentence: string): never {
  throw new MeasurementError(`archive-${what}`, sentence);
}

function show(path: string): string {
  return JSON.stringify(path.length > 80 ? `${path.slice(0, 79)}…` : path);
}
