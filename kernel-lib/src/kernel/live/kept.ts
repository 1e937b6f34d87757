import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync } from "node:fs";
import { dirname, join, relative, sep } from "node:path";
import { makeFolder, notWritten, writeWhole } from "../whole-file.js";
import { bytesOf } from "./file-model.js";
import type { RemovedFile } from "./listed-file.js";
import { type Place, placeOf } from "./place.js";
import { Refused } from "./refused.js";

/** so many checkpoints of one file are kept */
const mostCheckpoints = 10;

export interface Checkpoint {
  /** when it was made, in a form that names a file */
  readonly id: string;
  readonly last_modified: string;
}

/** Earlier versions of the files of a project and files that were removed, below build/: nothing else is written there. */
export class Kept {
  constructor(private readonly project: string) {}

  /** the checkpoints of a file, oldest first */
  checkpoints(place: Place): readonly Checkpoint[] {
    const folder = this.folderOf(place);
    const names = existsSync(folder) ? readdirSync(folder).filter(isStamp) : [];
    return names.sort().map((id) => ({ id, last_modified: statSync(join(folder, id)).mtime.toISOString() }));
  }

  /** Keeps the file as it is on the disk now. */
  keep(place: Place): Checkpoint {
    const bytes = bytesOf(place);
    const folder = this.folderOf(place);
    const id = freeName(folder, stamp());
    writeWhole(join(folder, id), bytes);
    const all = this.checkpoints(place);
    for (const old of all.slice(0, Math.max(all.length - mostCheckpoints, 0))) rmSync(join(folder, old.id));
    return { id, last_modified: statSync(join(folder, id)).mtime.toISOString() };
  }

  /** @throws Refused `no-checkpoint` */
  checkpoint(place: Place, id: string): Buffer {
    const found = this.checkpoints(place).find((checkpoint) => checkpoint.id === id);
    if (found !== undefined) return readFileSync(join(this.folderOf(place), found.id));
    throw new Refused(404, "no-checkpoint", `${place.path}: has no checkpoint ${JSON.stringify(id)}; take one listed`);
  }

  drop(place: Place, id: string): void {
    this.checkpoint(place, id);
    rmSync(join(this.folderOf(place), id));
  }

  /** Takes a file away from its folder, where it can be found again. @returns its new path below the project */
  remove(place: Place): string {
    const all = join(this.project, "build", "removed");
    const id = freeName(all, stamp());
    try {
      makeFolder(join(all, id, ...place.path.split("/").slice(0, -1)));
      renameSync(place.file, join(all, id, ...place.path.split("/")));
    } catch (error) {
      rmSync(join(all, id), { recursive: true, force: true });
      throw notWritten(place.path, error);
    }
    return `build/removed/${id}/${place.path}`;
  }

  /** the files that were removed, latest first */
  get removed(): readonly RemovedFile[] {
    const all = join(this.project, "build", "removed");
    const ids = existsSync(all) ? readdirSync(all).filter(isStamp) : [];
    return ids
      .sort()
      .reverse()
      .flatMap((id) =>
        readdirSync(join(all, id), { recursive: true, withFileTypes: true })
          .filter((entry) => entry.isFile())
          .map((entry) => {
            const path = relative(join(all, id), join(entry.parentPath, entry.name)).split(sep).join("/");
            return { id, path, removed: statSync(join(all, id)).mtime.toISOString() };
          }),
      );
  }

  /** Puts a removed file back where it was. @returns its path @throws Refused `not-removed`, `taken` */
  bringBack(id: string): string {
    const found = this.removed.find((file) => file.id === id);
    if (found === undefined) {
      throw new Refused(
        404,
        "not-removed",
        `there is no removed file ${JSON.stringify(id)} any more; look at the list again`,
      );
    }
    const place = placeOf(this.project, found.path);
    if (existsSync(place.file)) {
      throw new Refused(409, "taken", `${place.path}: is there again; rename that one first, nothing was brought back`);
    }
    const folder = join(this.project, "build", "removed", id);
    try {
      makeFolder(dirname(place.file));
      renameSync(join(folder, ...found.path.split("/")), place.file);
    } catch (error) {
      throw notWritten(place.path, error);
    }
    rmSync(folder, { recursive: true });
    return place.path;
  }

  /** The checkpoints of a file follow it to its new name. */
  moved(from: Place, to: Place): void {
    const old = this.folderOf(from);
    const fresh = this.folderOf(to);
    if (!existsSync(old) || existsSync(fresh)) return;
    mkdirSync(dirname(fresh), { recursive: true });
    renameSync(old, fresh);
  }

  private folderOf(place: Place): string {
    return join(this.project, "build", "checkpoints", ...place.path.split("/"));
  }
}

/** a stamp, with a number where two were made at once */
function isStamp(name: string): boolean {
  return /^[\dTZ-]+$/.test(name);
}

function stamp(): string {
  return new Date().toISOString().replace(/[:.]/g, "-");
}

function freeName(folder: string, wanted: string): string {
  if (!existsSync(join(folder, wanted))) return wanted;
  for (let n = 2; ; n++) if (!existsSync(join(folder, `${wanted}-${n}`))) return `${wanted}-${n}`;
}
