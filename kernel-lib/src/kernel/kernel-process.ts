import { type ChildProcess, spawn } from "node:child_process";
import { rmSync } from "node:fs";
import { join } from "node:path";
import { MeasurementError } from "../measurement-error.js";
import { atExit } from "./at-exit.js";
import { KernelClient, type RequestChannel } from "./client.js";
import { writeConnection } from "./connection-file.js";
import { parentVariable } from "./parent-variable.js";
import { makeFolder, notWritten } from "./whole-file.js";
import { type Message, settleRequest } from "./wire.js";

/** How to start a kernel for the notebooks of a folder. */
export interface KernelOptions {
  /** the notebook's folder, in which its cells run */
  readonly folder: string;
  /** where the connection file is kept while the kernel runs */
  readonly scratch: string;
  readonly published: (message: Message) => void;
  /** time for the kernel to answer for the first time; three minutes when left out */
  readonly startTimeoutMs?: number;
  /** who speaks to it, where a person looks on */
  readonly username?: string;
  /** what the kernel answers to messages that its client only passed on */
  readonly passedBack?: (channel: RequestChannel, message: Message) => void;
  /** called once the process has ended, with the reason */
  readonly over?: (reason: string) => void;
  /** ends a kernel that has not answered yet */
  readonly signal?: AbortSignal;
  /** a closed sheet that was changed stops the cell, as it must without a person to see the mark; true when left out */
  readonly strictSheets?: boolean;
}

/** a kernel is there within a second; on a machine with much other work it took more than a minute */
const longestStartMs = 180_000;

/** the file that starts a kernel */
const bin = join(__dirname, "..", "..", "bin", "dialbook.js");

/** A kernel of ours running as a process, with its one client. */
export class KernelProcess {
  /** why the process ended, once it has */
  ended: string | undefined;
  /** what the kernel says about its language, for the notebook's metadata */
  languageInfo: unknown;
  private lastWords = "";
  private readonly forgetAtExit: () => void;

  private constructor(
    readonly client: KernelClient,
    private readonly child: ChildProcess,
    readonly connectionPath: string,
    private readonly told: (reason: string) => void = () => undefined,
  ) {
    for (const output of [child.stdout, child.stderr]) output?.on("data", (chunk: Buffer) => this.heardOutside(chunk));
    this.forgetAtExit = atExit(this.cleanUp);
    child.once("error", (error) => this.over(`can't be started (${error.message})`));
    child.once("close", (code, signal) =>
      this.over(signal ? `was ended by ${signal}` : `ended with exit code ${code}`),
    );
  }

  /** Starts a kernel and waits until it answers; tried twice, as a port picked may be taken a moment later. */
  static async start(options: KernelOptions): Promise<KernelProcess> {
    const first = await KernelProcess.attempt(options);
    if (first.ended === undefined) return first;
    if (!/EADDRINUSE|address .*in use/i.test(first.lastWords)) throw first.startFailure();
    // its sockets would keep this process when all is done
    first.client.close();
    const second = await KernelProcess.attempt(options);
    if (second.ended === undefined) return second;
    throw second.startFailure();
  }

  private static async attempt(options: KernelOptions): Promise<KernelProcess> {
    const { path, connection } = await connectionIn(options.scratch);
    const child = spawn(process.execPath, [bin, "kernel", "serve", path], {
      cwd: options.folder,
      env: {
        ...process.env,
        DIALBOOK_BUILT: "1",
        DIALBOOK_STRICT: options.strictSheets === false ? "0" : "1",
        [parentVariable]: String(process.pid),
      },
      stdio: ["ignore", "pipe", "pipe"],
    });
    const client = new KernelClient(connection, options.published, options.username, options.passedBack);
    const kernel = new KernelProcess(client, child, path, options.over);
    const kill = (): void => kernel.kill();
    let hasAnswered = false;
    // the clock comes before the sockets: where this process stood still, an answer may wait there that is read first
    const tooLate = (): unknown => setImmediate(() => hasAnswered || kill());
    const late = setTimeout(tooLate, options.startTimeoutMs ?? longestStartMs);
    options.signal?.addEventListener("abort", kill);
    if (options.signal?.aborted) kill();
    const info = await kernel.client.ready().catch(() => undefined);
    hasAnswered = info !== undefined;
    kernel.languageInfo = info?.content.language_info;
    clearTimeout(late);
    options.signal?.removeEventListener("abort", kill);
    return kernel;
  }

  interrupt(): void {
    this.child.kill("SIGINT");
  }

  kill(): void {
    this.child.kill("SIGKILL");
  }

  get processId(): number | undefined {
    return this.child.pid;
  }

  /** Waits until nothing that cells have left running can speak any more, but not longer than this. */
  async settled(withinMs: number): Promise<void> {
    const { reply } = this.client.request(settleRequest, { within_ms: withinMs }, "control");
    let late: NodeJS.Timeout | undefined;
    const waited = new Promise<void>((resolve) => {
      late = setTimeout(resolve, withinMs);
    });
    await Promise.race([reply.catch(() => undefined), waited]);
    clearTimeout(late);
  }

  /** Asks the kernel to end; insists after two seconds, and again after one more. */
  async shutdown(): Promise<void> {
    if (this.ended === undefined) {
      const gone = new Promise((resolve) => this.child.once("close", resolve));
      this.client.request("shutdown_request", { restart: false }, "control").reply.catch(() => undefined);
      const insist = setTimeout(() => this.child.kill("SIGTERM"), 2000);
      const force = setTimeout(() => this.kill(), 3000);
      await gone;
      clearTimeout(insist);
      clearTimeout(force);
    }
    this.client.close();
  }

  /** when this process ends before the kernel has */
  private readonly cleanUp = (): void => {
    this.kill();
    rmSync(this.connectionPath, { force: true });
  };

  private over(reason: string): void {
    if (this.ended !== undefined) return;
    const words = this.lastWords.trim().split("\n").at(-1);
    this.ended = words ? `${reason}; its last words: ${words}` : reason;
    this.forgetAtExit();
    rmSync(this.connectionPath, { force: true });
    this.client.fail(new MeasurementError("kernel-ended", `the kernel ${this.ended}`));
    this.told(this.ended);
  }

  /** what the kernel's log and child processes of cells have printed past the cells, the last of it */
  get printedOutside(): string {
    return this.lastWords;
  }

  private heardOutside(chunk: Buffer): void {
    this.lastWords = (this.lastWords + chunk.toString("utf8")).slice(-4000);
  }

  private startFailure(): MeasurementError {
    this.client.close();
    return new MeasurementError("kernel-start", `the kernel ${this.ended ?? "did not start"}`);
  }
}

async function connectionIn(folder: string): ReturnType<typeof writeConnection> {
  try {
    makeFolder(folder);
    return await writeConnection(folder);
  } catch (error) {
    throw notWritten(folder, error);
  }
}
