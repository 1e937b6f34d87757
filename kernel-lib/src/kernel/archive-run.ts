import { join } from "node:path";
import { MeasurementError } from "../measurement-error.js";
import type { RanChapter } from "./ran-chapter.js";
import { runNotebook } from "./runner.js";

/** A notebook of an archive after its run: its path in the archive, and what it showed. */
export interface RanNotebook {
  readonly path: string;
  readonly chapter: RanChapter;
}

export interface ArchiveRunOptions {
  /** folder in which the files of the archive lie */
  readonly folder: string;
  /** paths of the notebooks below it */
  readonly notebooks: readonly string[];
  readonly outputFolder: string;
  /** longest time for one cell, in seconds */
  readonly timeoutSeconds: number;
  /** told when a notebook has run */
  readonly done: (chapter: RanChapter) => void;
}

/** Runs the notebooks of an unpacked archive one after the other, each in a fresh kernel. */
export async function runArchive(options: ArchiveRunOptions): Promise<readonly RanNotebook[]> {
  const { folder, notebooks, outputFolder, timeoutSeconds, done } = options;
  const ran: RanNotebook[] = [];
  for (const path of notebooks) {
    const chapter = await runNotebook({ path: join(folder, path), outputFolder, timeoutSeconds });
    done(chapter);
    ran.push({ path, chapter });
  }
  return ran;
}

/** @throws MeasurementError `not-whole` where a notebook stopped before its end */
export function needWhole(ran: readonly RanNotebook[]): void {
  const stopped = ran.find(({ chapter }) => chapter.failure !== undefined);
  if (stopped === undefined) return;
  throw new MeasurementError("not-whole", `pack: ${stopped.chapter.failure}; nothing was packed`);
}
