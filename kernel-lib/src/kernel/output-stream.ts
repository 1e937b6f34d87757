import { StringDecoder } from "node:string_decoder";
import { type CellContext, currentCell } from "./cell-context.js";

type StreamName = "stdout" | "stderr";
type Send = (name: StreamName, text: string, context: CellContext) => void;

/** a message is sent when this much text has come together, or after this time */
const largestText = 32_768;
const longestWaitMs = 50;

/**
 * What cells print, gathered into few messages: ten thousand lines of a loop need not be ten thousand messages.
 * Text of two streams or two cells is never joined, and order is kept.
 */
export class OutputStream {
  private pending: { name: StreamName; context: CellContext; text: string; since: number } | undefined;
  private scheduled = false;

  constructor(private readonly send: Send) {}

  write(name: StreamName, text: string, context: CellContext): void {
    if (text === "") return;
    if (this.pending && (this.pending.name !== name || this.pending.context !== context)) this.flush();
    this.pending ??= { name, context, text: "", since: performance.now() };
    this.pending.text += text;
    const { since } = this.pending;
    if (this.pending.text.length > largestText || performance.now() - since > longestWaitMs) this.flush();
    else this.flushSoon();
  }

  /** Sends what waits; called before any other message, so that the page shows things in their order. */
  flush(): void {
    const waiting = this.pending;
    this.pending = undefined;
    if (waiting) this.send(waiting.name, waiting.text, waiting.context);
  }

  private flushSoon(): void {
    if (this.scheduled) return;
    this.scheduled = true;
    setTimeout(() => {
      this.scheduled = false;
      this.flush();
    }, longestWaitMs);
  }
}

/** Leads the process's own output to the page once a cell has run; before that it goes where it always went. */
export function captureOutput(stream: OutputStream): void {
  for (const name of ["stdout", "stderr"] as const) {
    const target = process[name];
    const original = target.write.bind(target);
    const decoder = new StringDecoder("utf8");
    target.write = ((chunk: string | Uint8Array, ...rest: unknown[]): boolean => {
      const context = currentCell();
      if (!context) return original(chunk as string);
      stream.write(name, typeof chunk === "string" ? chunk : decoder.write(Buffer.from(chunk)), context);
      const callback = rest.find((argument) => typeof argument === "function") as (() => void) | undefined;
      if (callback) process.nextTick(callback);
      return true;
    }) as typeof target.write;
  }
}
