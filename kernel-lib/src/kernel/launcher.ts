import { writeSync } from "node:fs";
import { visible } from "../figure/markup.js";
import { currentCell } from "./cell-context.js";
import { CellNotices } from "./cell-notices.js";
import { CellSession } from "./cell-session.js";
import { setChannel } from "./channel.js";
import { openToOthers, readConnection } from "./connection-file.js";
import { KernelServer } from "./kernel-server.js";
import { LibraryAge } from "./library-age.js";
import { findPackage } from "./package-lookup.js";

/** a run without a person sends its first cell sooner than this, and that cell reads what it needs by itself */
const idleMs = 400;

/**
 * Starts the kernel of one notebook, in the notebook's folder, as a front end's connection file asks.
 *
 * @param ended called when a front end has asked for the end and has its answer
 */
export async function serve(connectionPath: string, ended: () => void = () => undefined): Promise<void> {
  const connection = readConnection(connectionPath);
  const open = openToOthers(connectionPath);
  if (open !== undefined) log(open);
  const packageFolder = findPackage(process.cwd());
  const dialbook = require(packageFolder) as { setStrictSheets(strict: boolean): void };
  const session = new CellSession(process.cwd(), Object.keys(dialbook));
  const notices = new CellNotices(new LibraryAge(packageFolder));
  const server = new KernelServer(connection, session, notices, () => end(server, 0, ended), log);
  // a run without a person stops at a closed sheet that was changed; a live kernel reads it and says so
  if (process.env.DIALBOOK_STRICT === "1") dialbook.setStrictSheets(true);
  setChannel(packageFolder, (type, content, context) => server.publish(type, content, context));
  process.on("SIGINT", () => session.executor.interrupt());
  const late = (thrown: unknown): void => report(thrown, session, server);
  process.on("uncaughtException", late);
  process.on("unhandledRejection", late);
  await server.start().catch((error: unknown) => {
    // the sockets that did find their port would keep a kernel that nobody reaches
    end(server, 1);
    throw error;
  });
  session.preloadWhenIdle("dialbook", idleMs);
}

function report(thrown: unknown, session: CellSession, server: KernelServer): void {
  const context = currentCell();
  if (context) server.reportLate(session.describe(thrown, context.cell), context);
  else log(thrown instanceof Error ? (thrown.stack ?? thrown.message) : String(thrown));
}

/** Whatever timers a cell has left running; at the exit the sockets wait until the last answers have left. */
function end(server: KernelServer, code: number, last?: () => void): void {
  server.close();
  setImmediate(() => {
    last?.();
    process.exit(code);
  });
}

/** straight to the process's own stderr: `process.stderr` belongs to the cells */
function log(line: string): void {
  writeSync(2, `dialbook kernel: ${visible(line)}\n`);
}
