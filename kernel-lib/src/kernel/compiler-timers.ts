import ts from "@tslab/typescript-for-tslab";

type Callback = () => void;
type SetTimeout = (callback: Callback) => unknown;

/**
 * Lets the cells' compiler be told of changed files at any moment.
 *
 * The compiler puts work off by timers of two sorts: to compile anew, and to look again for what it had not found. tslab
 * keeps room for one timer, which it fires itself with each cell, and throws when there are two: a library built anew
 * under a running kernel stopped every later cell. Here all timers are kept together; tslab holds one that runs them.
 *
 * @param create makes the converter; what it sets as its timers in the compiler's view of the system is wrapped
 */
export function withCompilerTimers<T>(create: () => T): T {
  const system = ts.sys as unknown as Record<"setTimeout" | "clearTimeout", unknown>;
  const timers = new CompilerTimers();
  const { setTimeout, clearTimeout } = system;
  // tslab's system inherits from this one, so that setting a member there comes by here
  intercept(system, "setTimeout", (set) => timers.setter(set as SetTimeout));
  intercept(system, "clearTimeout", () => (timer: unknown) => timers.clear(timer));
  try {
    return create();
  } finally {
    Object.defineProperty(system, "setTimeout", { value: setTimeout, writable: true, configurable: true });
    Object.defineProperty(system, "clearTimeout", { value: clearTimeout, writable: true, configurable: true });
  }
}

function intercept(system: object, name: string, wrapped: (set: unknown) => unknown): void {
  const value = Reflect.get(system, name);
  Object.defineProperty(system, name, {
    configurable: true,
    get: () => value,
    set(this: object, given: unknown) {
      Object.defineProperty(this, name, { value: wrapped(given), configurable: true });
    },
  });
}

/** Any number of timers behind the single one that tslab knows. */
class CompilerTimers {
  private readonly waiting = new Set<{ readonly callback: Callback }>();
  private held = false;

  setter(hold: SetTimeout): SetTimeout {
    return (callback) => {
      const timer = { callback };
      this.waiting.add(timer);
      if (!this.held) {
        this.held = true;
        hold(() => this.fire());
      }
      return timer;
    };
  }

  clear(timer: unknown): void {
    this.waiting.delete(timer as { callback: Callback });
  }

  /** A callback may set further timers. Where one throws, tslab keeps its timer, and so it stays held here too. */
  private fire(): void {
    for (const timer of this.waiting) {
      this.waiting.delete(timer);
      timer.callback();
    }
    this.held = false;
  }
}
