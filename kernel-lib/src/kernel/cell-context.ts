import { AsyncLocalStorage } from "node:async_hooks";
import { inspect } from "node:util";
import type { Message } from "./wire.js";

/** The cell some code belongs to: the request that ran it, and its number. */
export class CellContext {
  constructor(
    readonly request: Message,
    readonly cell: number,
  ) {}

  /** Node hangs the context on every promise a cell makes, where a printed promise would show all of it. */
  [inspect.custom](): string {
    return `cell ${this.cell}`;
  }
}

const storage = new AsyncLocalStorage<CellContext>();
let latest: CellContext | undefined;

/** Runs a cell so that whatever it starts (timers, promises) is known to be its own, also after it has finished. */
export function inCell<T>(context: CellContext, run: () => T): T {
  latest = context;
  return storage.run(context, run);
}

/** The cell that the running code belongs to; the latest one where Node lost track. */
export function currentCell(): CellContext | undefined {
  return storage.getStore() ?? latest;
}
