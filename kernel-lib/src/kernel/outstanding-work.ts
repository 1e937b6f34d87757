/** what stands as long as the kernel does: the compiler's watch over files */
const watches = new Set(["FSEventWrap", "StatWatcher"]);
const lookEveryMs = 10;

/** Knows whether cells have left something running that may still speak: a timer, a request, a socket, a process. */
export class OutstandingWork {
  private readonly before = running();

  /** Resolves when nothing is left that was not there at first, and after a time at the latest. */
  async over(withinMs: number): Promise<void> {
    const end = performance.now() + withinMs;
    // what a promise or an immediate had to say is said after one turn
    await new Promise((resolve) => setImmediate(resolve));
    while (this.isSome() && performance.now() < end) {
      await new Promise((resolve) => setTimeout(resolve, lookEveryMs).unref());
    }
  }

  private isSome(): boolean {
    return Array.from(running()).some(([kind, count]) => count > (this.before.get(kind) ?? 0));
  }
}

function running(): ReadonlyMap<string, number> {
  const found = new Map<string, number>();
  for (const kind of process.getActiveResourcesInfo())
    if (!watches.has(kind)) found.set(kind, (found.get(kind) ?? 0) + 1);
  return found;
}
