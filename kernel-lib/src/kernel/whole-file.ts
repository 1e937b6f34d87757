import { randomUUID } from "node:crypto";
import { existsSync, mkdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { MeasurementError } from "../measurement-error.js";

/**
 * Writes a file whole or not at all: beside the old one first, then in its place. Its folder is made where it is missing.
 *
 * @throws MeasurementError `not-written` with the reason: disk full, folder read-only, a folder in the way
 */
export function writeWhole(path: string, content: string | Uint8Array): void {
  const fresh = join(dirname(path), `.${basename(path)}.${randomUUID()}`);
  try {
    makeFolder(dirname(path));
    writeFileSync(fresh, content);
    renameSync(fresh, path);
  } catch (error) {
    throw notWritten(path, error);
  } finally {
    if (existsSync(fresh)) rmSync(fresh);
  }
}

/** Makes a folder and those above it; what stands in the way is the system's own error, for `notWritten`. */
export function makeFolder(folder: string, mode = 0o777): void {
  try {
    mkdirSync(folder, { recursive: true, mode });
  } catch (error) {
    // on a disk that can't be written to, Node calls a deep path missing: the first missing folder has the reason
    let first = folder;
    while (!existsSync(dirname(first)) && dirname(first) !== first) first = dirname(first);
    if (!existsSync(first)) mkdirSync(first);
    throw error;
  }
}

const reasons: { readonly [code: string]: string } = {
  ENOSPC: "the disk is full; make room and run it again",
  EDQUOT: "your share of the disk is full; make room and run it again",
  EFBIG: "it is larger than a file may be here; write it to another disk",
  EROFS: "the disk is read-only; choose a folder on another one",
  EACCES: "the folder or the file may not be written to; change its rights or choose another folder",
  EPERM: "the folder or the file may not be written to; change its rights or choose another folder",
  EBUSY: "another program holds the file open; close it there and run it again",
  EISDIR: "a folder of that name is in the way; choose another name",
  EEXIST: "a file of its name, or of its folder's name, is in the way; choose another path",
  ENOTDIR: "a part of its path is a file, not a folder; choose another path",
  ENOENT: "its folder can't be made; choose another path",
  ENAMETOOLONG: "its name is too long; choose a shorter one",
};

/** The one sentence for a file that could not be written; the old file is still there. */
export function notWritten(path: string, error: unknown): MeasurementError {
  const code = (error as NodeJS.ErrnoException).code ?? "";
  const reason = reasons[code] ?? `${code || String(error)}; choose another folder`;
  return new MeasurementError("not-written", `${path}: was not written, ${reason}`);
}
