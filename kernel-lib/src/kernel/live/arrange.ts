import { existsSync, renameSync } from "node:fs";
import { basename, dirname, extname, join } from "node:path";
import { notebookText } from "../notebook-file.js";
import { notWritten } from "../whole-file.js";
import { bytesOf } from "./file-model.js";
import type { Place } from "./place.js";
import { Refused } from "./refused.js";
import { needOpen } from "./saving.js";

/** A name that is free in a folder: of a copy after what it copies, of a new file by its ending. */
export function freePlace(folder: Place, source: Place | undefined, ending: unknown): Place {
  const given = typeof ending === "string" && /^\.?\w{1,10}$/.test(ending) ? ending.replace(/^\.?/, ".") : ".txt";
  const end = source ? extname(source.path) : given;
  const stem = source ? `${basename(source.path, end)}-copy` : "new";
  for (let n = 1; ; n++) {
    const name = n === 1 ? `${stem}${end}` : `${stem}-${n}${end}`;
    const file = join(folder.file, name);
    if (!existsSync(file)) return { path: `${folder.path}/${name}`, file };
  }
}

/** Gives a file a new name. @throws Refused `taken`, `ending`, and for a closed sheet */
export function move(from: Place, to: Place): void {
  needOpen(from);
  needOpen(to);
  bytesOf(from);
  if (existsSync(to.file)) {
    throw new Refused(409, "taken", `${to.path}: is there already; choose another name, nothing was renamed`);
  }
  if (extname(from.path) !== extname(to.path)) {
    throw new Refused(400, "ending", `${to.path}: must end in ${extname(from.path)}, as ${from.path} does`);
  }
  if (!existsSync(dirname(to.file))) {
    throw new Refused(404, "no-folder", `${to.path}: its folder is not there; nothing was renamed`);
  }
  try {
    renameSync(from.file, to.file);
  } catch (error) {
    throw notWritten(to.path, error);
  }
}

/** A notebook with nothing in it, for our kernel. */
export function emptyNotebook(): string {
  const kernelspec = { name: "dialbook", display_name: "TypeScript (Dialbook)", language: "typescript" };
  return notebookText({ cells: [], metadata: { kernelspec }, nbformat: 4, nbformat_minor: 5 });
}
