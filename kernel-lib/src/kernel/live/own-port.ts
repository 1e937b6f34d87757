import { createHash } from "node:crypto";
import { MeasurementError } from "../../measurement-error.js";

/** ports that systems hand out to no one by themselves, and few programs ask for */
const [first, count] = [20_000, 10_000];

/**
 * The port of a project where none is given: the same each time. A browser keeps what was typed and not saved under the
 * page's address; with another port the next page would not find it.
 */
export function ownPort(project: string): number {
  return first + (createHash("sha256").update(project).digest().readUInt32BE(0) % count);
}

/** Starts at the project's own port, or at a free one where that is in use. */
export async function atOwnPort<T>(project: string, start: (port: number | undefined) => Promise<T>): Promise<T> {
  try {
    return await start(ownPort(project));
  } catch (error) {
    if (!(error instanceof MeasurementError) || error.code !== "port-taken") throw error;
    return start(undefined);
  }
}
