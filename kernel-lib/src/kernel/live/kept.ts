import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, statSync } from "node:fs";
import { basename, dirname, join } from "node:path";
import { makeFolder, notWritten, writeWhole } from "../whole-file.js";
import { bytesOf } from "./file-model.js";
import type { Place } from "./place.js";
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
    const names = existsSync(folder) ? readdirSync(folder).filter((name) => /^[\dTZ-]+$/.test(name)) : [];
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
    const folder = join(this.project, "build", "removed");
    const name = freeName(folder, `${stamp()}-${basename(place.path)}`);
    try {
      makeFolder(folder);
      renameSync(place.file, join(folder, name));
    } catch (error) {
      throw notWritten(place.path, error);
    }
    return `build/removed/${name}`;
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

function stamp(): string {
  return new Date().toISOString().replace(/[:.]/g, "-");
}

function freeName(folder: string, wanted: string): string {
  if (!existsSync(join(folder, wanted))) return wanted;
  for (let n = 2; ; n++) if (!existsSync(join(folder, `${wanted}-${n}`))) return `${wanted}-${n}`;
}
