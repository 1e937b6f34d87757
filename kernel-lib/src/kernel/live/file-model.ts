import { accessSync, constants, readdirSync, readFileSync, type Stats, statSync } from "node:fs";
import { basename, dirname, extname, join } from "node:path";
import { MeasurementError } from "../../measurement-error.js";
import { sumOf } from "../archive-contents.js";
import { parseNotebook } from "../notebook-file.js";
import { types } from "./assets.js";
import { inMegabytes } from "./body.js";
import type { Place } from "./place.js";
import { Refused } from "./refused.js";

/** largest file that is opened or saved, in bytes */
export const largestFile = 64e6;

/**
 * A file or folder as the contents service of Jupyter describes it.
 *
 * @see the Jupyter Server's REST description, "Contents"
 */
export interface FileModel {
  readonly name: string;
  readonly path: string;
  readonly type: "directory" | "notebook" | "file";
  readonly created: string;
  readonly last_modified: string;
  readonly mimetype: string | null;
  readonly format: "json" | "text" | "base64" | null;
  readonly content: unknown;
  readonly size: number | null;
  readonly writable: boolean;
  readonly hash: string | null;
  readonly hash_algorithm: string | null;
}

/** what a page wants to know of a file beside its name and time */
export interface Wanted {
  readonly content: boolean;
  readonly hash: boolean;
  /** as text or in base64; chosen by the file where left out */
  readonly format?: string | undefined;
  readonly type?: string | undefined;
}

export function fileModel(place: Place, wanted: Wanted): FileModel {
  const stats = statOf(place);
  if (stats.isDirectory()) return folderModel(place, stats, wanted);
  const bytes = wanted.content || wanted.hash ? bytesOf(place, stats) : undefined;
  const isNotebook = wanted.type !== "file" && place.path.endsWith(".ipynb");
  return {
    ...common(place, stats),
    type: isNotebook ? "notebook" : "file",
    mimetype: isNotebook || !wanted.content ? null : (types[extname(place.path)] ?? "application/octet-stream"),
    ...(wanted.content && bytes ? contentOf(place, bytes, isNotebook, wanted.format) : { content: null, format: null }),
    size: stats.size,
    ...(wanted.hash && bytes ? { hash: sumOf(bytes), hash_algorithm: "sha256" } : { hash: null, hash_algorithm: null }),
  };
}

/** @throws Refused `gone` where a file is not there, any more or ever */
export function bytesOf(place: Place, stats = statOf(place)): Buffer {
  if (stats.size > largestFile) {
    throw new Refused(
      413,
      "too-large",
      `${place.path}: ${inMegabytes(stats.size)}, and files up to ${inMegabytes(largestFile)} are opened here; clear outputs that are not needed`,
    );
  }
  try {
    return readFileSync(place.file);
  } catch (error) {
    throw unread(place, error);
  }
}

function statOf(place: Place): Stats {
  try {
    return statSync(place.file);
  } catch (error) {
    throw unread(place, error);
  }
}

function unread(place: Place, error: unknown): Refused {
  const code = (error as NodeJS.ErrnoException).code ?? "";
  if (code === "ENOENT" || code === "ENOTDIR") {
    return new Refused(
      404,
      "gone",
      `${place.path}: is not there, it was removed or renamed; open it from the list under the name it has now`,
    );
  }
  if (code === "EISDIR") return new Refused(400, "folder", `${place.path}: is a folder; give the path of a file`);
  return new Refused(403, "not-readable", `${place.path}: can't be read (${code}); change the file's rights`);
}

function common(place: Place, stats: Stats) {
  return {
    name: basename(place.path),
    path: place.path,
    created: stats.birthtime.toISOString(),
    last_modified: stats.mtime.toISOString(),
    writable: isWritable(place.file) && isWritable(dirname(place.file)),
  };
}

function isWritable(path: string): boolean {
  try {
    accessSync(path, constants.W_OK);
    return true;
  } catch {
    return false;
  }
}

function folderModel(place: Place, stats: Stats, wanted: Wanted): FileModel {
  const inside = (name: string): FileModel[] => {
    try {
      const child = { path: `${place.path}/${name}`, file: join(place.file, name) };
      return [fileModel(child, { content: false, hash: false })];
    } catch (error) {
      if (error instanceof MeasurementError) return [];
      throw error;
    }
  };
  const content = wanted.content
    ? readdirSync(place.file)
        .filter((name) => !name.startsWith("."))
        .sort((a, b) => a.localeCompare(b, "en", { numeric: true }))
        .flatMap(inside)
    : null;
  const format = wanted.content ? "json" : null;
  const rest = { mimetype: null, size: null, hash: null, hash_algorithm: null } as const;
  return { ...common(place, stats), type: "directory", content, format, ...rest };
}

/** @throws MeasurementError where a notebook is damaged or of another format */
function contentOf(place: Place, bytes: Buffer, isNotebook: boolean, format: string | undefined) {
  if (isNotebook)
    return { content: parseNotebook(bytes.toString("utf8"), basename(place.path)), format: "json" } as const;
  const text = bytes.toString("utf8");
  const isText = Buffer.from(text, "utf8").equals(bytes) && !text.includes("\0");
  if (format === "text" && !isText) {
    throw new Refused(400, "not-text", `${place.path}: is no text in UTF-8; open it with the program that made it`);
  }
  if (isText && format !== "base64") return { content: text, format: "text" } as const;
  return { content: bytes.toString("base64"), format: "base64" } as const;
}
