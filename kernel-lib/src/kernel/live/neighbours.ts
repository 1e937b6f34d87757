import { existsSync, readdirSync, rmSync } from "node:fs";
import { join } from "node:path";
import { makeFolder, notWritten } from "../whole-file.js";

/** Another server of the same project. */
export interface Neighbour {
  readonly processId: number;
  readonly port: number;
}

/**
 * This server's own folder below build/live/; its name tells others who serves where.
 *
 * @throws MeasurementError `not-written` where the project can't be written to
 */
export function ownFolder(project: string, port: number): string {
  const folder = join(project, "build", "live", `${process.pid}-${port}`);
  try {
    makeFolder(folder, 0o700);
  } catch (error) {
    throw notWritten(folder, error);
  }
  return folder;
}

/** Other servers of this project that run now; what servers that were killed left behind is removed. */
export function neighbours(project: string): readonly Neighbour[] {
  const all = join(project, "build", "live");
  if (!existsSync(all)) return [];
  return readdirSync(all).flatMap((name) => {
    const [, processId, port] = (/^(\d+)-(\d+)$/.exec(name) ?? []).map(Number);
    if (processId === undefined || port === undefined || processId === process.pid) return [];
    if (isAlive(processId)) return [{ processId, port }];
    rmSync(join(all, name), { recursive: true, force: true });
    return [];
  });
}

function isAlive(processId: number): boolean {
  try {
    process.kill(processId, 0);
    return true;
  } catch (error) {
    return Reflect.get(error as object, "code") === "EPERM";
  }
}
