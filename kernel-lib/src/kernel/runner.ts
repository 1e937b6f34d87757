import { basename, dirname, join, resolve } from "node:path";
import { MeasurementError } from "../measurement-error.js";
import { CellOutputs } from "./cell-outputs.js";
import { deathFailure, lateFailure, replyFailure, timeoutFailure } from "./failure.js";
import { Insistence } from "./insistence.js";
import { KernelProcess } from "./kernel-process.js";
import type { Cell, CodeCell, Notebook } from "./notebook.js";
import { readNotebook, writeNotebook } from "./notebook-file.js";
import { titleOf } from "./notebook-title.js";
import type { RanChapter } from "./ran-chapter.js";
import { handOrder } from "./run-order.js";
import type { Message } from "./wire.js";

/** How to run one notebook. */
export interface RunOptions {
  /** a relative one starts from the working directory, as that of the folder does */
  readonly path: string;
  /** folder for what ran, and for the connection file while it runs */
  readonly outputFolder: string;
  /** longest time for one cell, in seconds; 120 when left out */
  readonly timeoutSeconds?: number;
  /** go on with the next cell after one has failed */
  readonly goOn?: boolean;
  /** also write the source notebook, if every cell ran */
  readonly save?: boolean;
  /** stops the run: the cell is interrupted, what ran is kept */
  readonly signal?: AbortSignal;
  /** called when a cell starts: cell k of n */
  readonly progress?: (cell: number, cells: number) => void;
}

/** time after the last cell in which what it left running may still report */
const lateMs = 200;
/** time for an interrupted cell to end by itself */
const graceMs = 2000;

/**
 * Runs a notebook top to bottom in a kernel of ours, in the notebook's folder, without any front end.
 *
 * What ran is saved under the output folder in any case. The source is written only with `save`, and only when every
 * cell ran; written twice it is the same to the last byte.
 */
export async function runNotebook(given: RunOptions): Promise<RanChapter> {
  const started = performance.now();
  // the kernel works in the folder of the notebook: a path that starts from here would lead elsewhere there
  const options = { ...given, path: resolve(given.path), outputFolder: resolve(given.outputFolder) };
  const notebook = readNotebook(options.path);
  const run = new NotebookRun(notebook, options);
  const failure = await run.all();
  const ran = run.notebook();
  const name = basename(options.path, ".ipynb");
  writeNotebook(join(options.outputFolder, `${name}.ipynb`), ran);
  if (options.save && failure === undefined) writeNotebook(options.path, ran);
  const seconds = (performance.now() - started) / 1000;
  const title = titleOf(notebook) ?? name;
  const order = handOrder(notebook);
  return {
    name,
    title,
    notebook: ran,
    seconds,
    ...(failure !== undefined && { failure }),
    ...(order !== undefined && { handOrder: order }),
  };
}

/** The state of one run: which cells have been sent, what they showed, what failed. */
class NotebookRun {
  private readonly code: readonly CodeCell[];
  private readonly outputs = new CellOutputs();
  /** number of the cell, from 1, by the id of the request that ran it */
  private readonly requests = new Map<string, number>();
  private readonly counts = new Map<number, number>();
  /** whether a cell runs, and what asks it to stop until it does not */
  private isBusy = false;
  private readonly insistence = new Insistence(() => this.isBusy);
  private failure: string | undefined;
  private languageInfo: unknown;

  constructor(
    private readonly source: Notebook,
    private readonly options: RunOptions,
  ) {
    this.code = source.cells.filter((cell): cell is CodeCell => cell.cell_type === "code" && cell.source.trim() !== "");
  }

  async all(): Promise<string | undefined> {
    const kernel = await this.start();
    this.languageInfo = kernel.languageInfo;
    const stop = (): void => {
      this.fail(`${this.name}: was stopped before its end`);
      this.insistence.begin(() => kernel.interrupt());
    };
    this.options.signal?.addEventListener("abort", stop);
    try {
      for (const [index, cell] of this.code.entries()) {
        if (kernel.ended !== undefined || this.over()) break;
        this.options.progress?.(index + 1, this.code.length);
        this.fail(await this.one(kernel, cell, index + 1));
      }
      await kernel.settled(lateMs);
    } finally {
      this.options.signal?.removeEventListener("abort", stop);
      await kernel.shutdown();
    }
    return this.failure;
  }

  private async start(): Promise<KernelProcess> {
    try {
      return await KernelProcess.start({
        folder: dirname(this.options.path),
        scratch: this.options.outputFolder,
        published: (message) => this.heard(message),
      });
    } catch (error) {
      const reason = error instanceof Error ? error.message : String(error);
      throw new MeasurementError("kernel-start", `${this.name}: ${reason}`);
    }
  }

  private over(): boolean {
    return this.options.signal?.aborted === true || (this.failure !== undefined && this.options.goOn !== true);
  }

  /** the notebook as it is after the run */
  notebook(): Notebook {
    const cells = this.source.cells.map((cell): Cell => {
      if (cell.cell_type !== "code") return cell;
      const number = this.code.indexOf(cell) + 1;
      return { ...cell, execution_count: this.counts.get(number) ?? null, outputs: this.outputs.of(number) };
    });
    const metadata = { kernelspec: ourKernel, language_info: this.languageInfo, ...this.source.metadata };
    return { ...this.source, cells, metadata: metadata as Notebook["metadata"] };
  }

  private async one(kernel: KernelProcess, cell: CodeCell, number: number): Promise<string | undefined> {
    const seconds = this.options.timeoutSeconds ?? 120;
    const asked = kernel.client.request("execute_request", {
      code: cell.source,
      silent: false,
      store_history: true,
      user_expressions: {},
      allow_stdin: false,
      stop_on_error: true,
    });
    this.requests.set(asked.id, number);
    this.isBusy = true;
    const overdue = overdueIn(kernel, seconds, this.insistence);
    try {
      const reply = await asked.reply;
      if (overdue.passed()) return timeoutFailure(this.name, number, seconds);
      return replyFailure(this.name, number, cell, reply);
    } catch {
      if (overdue.passed()) return timeoutFailure(this.name, number, seconds);
      return deathFailure(this.name, number, kernel.ended ?? "");
    } finally {
      overdue.cancel();
      this.isBusy = false;
      this.insistence.end();
    }
  }

  private heard(message: Message): void {
    const cell = this.requests.get(message.parent.msg_id ?? "");
    if (cell === undefined) return;
    const count = message.content.execution_count;
    if (message.header.msg_type === "execute_input" && typeof count === "number") this.counts.set(cell, count);
    this.outputs.take(cell, message);
    this.fail(lateFailure(this.name, cell, message));
  }

  /** the first failure is the one to report */
  private fail(failure: string | undefined): void {
    this.failure ??= failure;
  }

  private get name(): string {
    return basename(this.options.path, ".ipynb");
  }
}

const ourKernel = { name: "dialbook", display_name: "TypeScript (Dialbook)", language: "typescript" };

/** Interrupts a cell that takes too long, and ends the kernel when that does not help. */
function overdueIn(
  kernel: KernelProcess,
  seconds: number,
  insistence: Insistence,
): { passed(): boolean; cancel(): void } {
  let passed = false;
  let insist: NodeJS.Timeout | undefined;
  const first = setTimeout(() => {
    passed = true;
    insistence.begin(() => kernel.interrupt());
    insist = setTimeout(() => kernel.kill(), graceMs);
  }, seconds * 1000);
  const cancel = (): void => {
    clearTimeout(first);
    clearTimeout(insist);
  };
  return { passed: () => passed, cancel };
}
