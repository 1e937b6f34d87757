/** how often, and in steps of how many ms, a cell is asked again to stop */
const most = 20;
const every = 500;

/**
 * Asks the cell that runs to stop, again until the kernel rests: a signal that comes while a cell is still compiled is
 * spent before the cell begins.
 */
export class Insistence {
  private again: NodeJS.Timeout | undefined;

  constructor(private readonly isBusy: () => boolean) {}

  begin(interrupt: () => void, times = most): void {
    interrupt();
    this.end();
    this.again = setTimeout(() => {
      if (this.isBusy() && times > 1) this.begin(interrupt, times - 1);
    }, every).unref();
  }

  end(): void {
    clearTimeout(this.again);
  }
}
