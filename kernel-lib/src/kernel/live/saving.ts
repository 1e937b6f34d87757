import { existsSync, readFileSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { parseChecksums } from "../../survey/checksums.js";
import { checksumFile } from "../../survey/files.js";
import { sumOf } from "../archive-contents.js";
import type { Notebook } from "../notebook.js";
import { notebookText, parseNotebook } from "../notebook-file.js";
import { writeWhole } from "../whole-file.js";
import { bytesOf } from "./file-model.js";
import type { Kept } from "./kept.js";
import type { Place } from "./place.js";
import { Refused } from "./refused.js";
import type { Json } from "./route.js";

/**
 * Saves what pages send, and never over something that page had not seen.
 *
 * A page says the hash of the file it last saw, and none to make a file that is not there; where it says none, what this server last showed or wrote of the file
 * counts as seen.
 */
export class Saving {
  /** hash of a file as a page last saw it, by path */
  private readonly seen = new Map<string, string>();

  saw(path: string, hash: string | null): void {
    if (hash !== null) this.seen.set(path, hash);
  }

  forget(path: string): void {
    this.seen.delete(path);
  }

  /** @returns true where the file was not there before */
  save(place: Place, model: Json): boolean {
    needOpen(place);
    const bytes = bytesToWrite(place, model);
    const isNew = !existsSync(place.file);
    if (!isNew) this.needSeen(place, model);
    else if (typeof model.hash === "string") throw removed(place);
    writeWhole(place.file, bytes);
    this.saw(place.path, sumOf(bytes));
    return isNew;
  }

  /** Writes a file that is not there yet. */
  create(place: Place, bytes: Buffer): void {
    needOpen(place);
    writeWhole(place.file, bytes);
    this.saw(place.path, sumOf(bytes));
  }

  /** Puts an earlier version back; what is there now is kept as a checkpoint first. */
  restore(place: Place, earlier: Buffer, kept: Kept): void {
    needOpen(place);
    if (existsSync(place.file)) kept.keep(place);
    this.create(place, earlier);
  }

  private needSeen(place: Place, model: Json): void {
    const there = sumOf(bytesOf(place));
    const seen = typeof model.hash === "string" ? model.hash : this.seen.get(place.path);
    if (seen === there) return;
    throw new Refused(
      409,
      "changed-on-disk",
      `${place.path}: was changed on the disk since this page last saw it; nothing was saved: keep yours under a new name, or load the file from the disk`,
    );
  }
}

/** for a page that saw the file: it asks the person before it makes the file anew */
function removed({ path }: Place): Refused {
  return new Refused(
    410,
    "removed",
    `${path}: is no longer on the disk, it was removed or renamed; nothing was saved: write it again, or save it under a new name`,
  );
}

/** @throws Refused `closed-sheet` for a sheet that is closed, and for the list of them */
export function needOpen(place: Place): void {
  const [folder, name] = [dirname(place.file), basename(place.file)];
  if (name === checksumFile) {
    throw new Refused(403, "closed-sheets", `${place.path}: is the list of closed sheets, which is not changed here`);
  }
  const list = join(folder, checksumFile);
  if (!existsSync(list)) return;
  const closed = parseChecksums(readFileSync(list, "utf8")).find(({ file }) => file === name);
  if (closed === undefined) return;
  throw new Refused(
    403,
    "closed-sheet",
    `${place.path}: was closed on ${closed.closed} and stays as it is; save a correction under a new name`,
  );
}

function bytesToWrite(place: Place, model: Json): Buffer {
  if (place.path.endsWith(".ipynb")) return Buffer.from(notebookText(notebookOf(place, model.content)), "utf8");
  if (typeof model.content !== "string") {
    throw new Refused(400, "no-content", `${place.path}: came without its content; nothing was saved`);
  }
  return Buffer.from(model.content, model.format === "base64" ? "base64" : "utf8");
}

/** What the page holds as a notebook; marks of trust are the page's own and not kept. */
function notebookOf(place: Place, content: unknown): Notebook {
  const text = typeof content === "string" ? content : JSON.stringify(content ?? null);
  const notebook = parseNotebook(text, basename(place.path));
  const cells = notebook.cells.map((cell) => {
    const { trusted, ...metadata } = cell.metadata;
    return { ...cell, metadata };
  });
  return { ...notebook, cells };
}
