/** what stands as long as the kernel does: the compiler's watch over files */
const watches = new Set(["FSEventWrap", "StatWatcher"]);
const lookEveryMs = 10;

/** Knows whether cells have left something running that may still speak: a timer, a request, a socket, a process. */
export class OutstandingWork {
  /** the fewest of each kind there have been: these are the kernel's own */
  private readonly own = running();

  /** to be called before a cell runs: what the kernel had at its start may have ended since */
  look(): void {
    const now = running();
    for (const [kind, count] of this.own) this.own.set(kind, Math.min(count, now.get(kind) ?? 0));
  }

  /** Resolves when nothing is left that is not the kernel's own, and after a time at the latest. */
  async over(withinMs: number): Promise<void> {
    const end = performance.now() + withinMs;
    // what a promise or an immediate had to say is said after one turn
    await new Promise((resolve) => setImmediate(resolve));
    while (this.isSome() && performance.now() < end) {
      await new Promise((resolve) => setTimeout(resolve, lookEveryMs).unref());
    }
  }

  private isSome(): boolean {
    return Array.from(running()).some(([kind, count]) => count > (this.own.get(kind) ?? 0));
  }
}

function running(): Map<string, number> {
  const found = new Map<string, number>();
  for (const kind of process.getActiveResourcesInfo())
    if (!watches.has(kind)) found.set(kind, (found.get(kind) ?? 0) + 1);
  return found;
}
