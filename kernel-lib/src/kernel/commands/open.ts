import { existsSync } from "node:fs";
import { join } from "node:path";
import { MeasurementError } from "../../measurement-error.js";
import { showInBrowser } from "../browser-window.js";
import { type Command, readArguments, UsageError } from "../command.js";
import { atOwnPort } from "../live/own-port.js";
import { projectFolder } from "../project.js";
import { complain, say } from "../terminal.js";

const help = `dialbook open   open the notebooks and sheets of this folder in a browser

  --port N       the port on this machine; one that stays this project's own when left out
  --no-browser   only print the address, don't open it
  --help         this text

The page is served from this machine to this machine alone. The address works once; Enter prints a fresh one.
Ctrl-C ends the page and its kernels; what was saved is in notebooks/ and data/.`;

const options = { port: { type: "string" }, "no-browser": { type: "boolean", default: false } } as const;

/** `dialbook open`: the live page. */
export const openCommand: Command = {
  summary: "open the notebooks and sheets in a browser",
  help,
  async run(args) {
    const { values, positionals } = readArguments("open", args, options);
    if (positionals.length > 0) {
      throw new UsageError(`open: "${positionals[0]}" is one word too many; see dialbook open --help`);
    }
    const [{ LiveServer }, { neighbours }] = await Promise.all([
      import("../live/live-server.js"),
      import("../live/neighbours.js"),
    ]);
    const project = projectFolder(process.cwd());
    needNotebooks(project);
    for (const { port, processId } of neighbours(project)) warn(alsoOpen(port, processId));
    const start = (port: number | undefined) =>
      LiveServer.start({ project, ...(port !== undefined && { port }), log: warn });
    const server = values.port === undefined ? await atOwnPort(project, start) : await start(portOf(values.port));
    const address = server.address();
    say(
      `The page is open at\n\n  ${address}\n\nIt works once; Enter prints a fresh address, Ctrl-C ends the page and its kernels.`,
    );
    if (!values["no-browser"]) void tellUnopened(address);
    const stopAsking = freshOnEnter(() => say(`  ${server.address()}`));
    await asked();
    stopAsking();
    say("ending the page and its kernels");
    await server.stop();
    return 0;
  },
};

function needNotebooks(project: string): void {
  if (existsSync(join(project, "notebooks"))) return;
  throw new MeasurementError(
    "no-project",
    `open: there is no folder notebooks/ in ${project} or above it; go to the folder of your notebooks, or begin one with dialbook new`,
  );
}

function alsoOpen(port: number, processId: number): string {
  return `these notebooks are open already at http://127.0.0.1:${port}/ (process ${processId}); whoever saves second is told, nothing is lost`;
}

/** Enter at a terminal gives another address, for a browser that was closed or a second one. */
function freshOnEnter(print: () => void): () => void {
  if (!process.stdin.isTTY) return () => undefined;
  process.stdin.on("data", print);
  return () => process.stdin.pause();
}

function portOf(text: string): number {
  const port = Number(text);
  if (Number.isInteger(port) && port >= 1024 && port <= 65535) return port;
  throw new UsageError(`open: --port "${text}" is no port from 1024 to 65535; leave it out for the project's own`);
}

/** Resolves when the person, the system or the end of the parent asks for the end. */
function asked(): Promise<void> {
  return new Promise((resolve) => {
    for (const signal of ["SIGINT", "SIGTERM", "SIGHUP"] as const) process.on(signal, () => resolve());
    const parent = process.ppid;
    setInterval(() => process.ppid !== parent && resolve(), 500).unref();
  });
}

/** The page is there all the same: the address was printed. */
async function tellUnopened(address: string): Promise<void> {
  const reason = await showInBrowser(address);
  if (reason !== undefined) warn(`no browser was opened here: ${reason}; open the address above in one`);
}

function warn(line: string): void {
  complain(`dialbook open: ${line}`);
}
