import type { Change } from "./sheet-changes.js";

/** What can be taken back, step by step, and put in again. */
export class History {
  private readonly done: (readonly Change[])[] = [];
  private readonly undone: (readonly Change[])[] = [];

  get canUndo(): boolean {
    return this.done.length > 0;
  }
  get canRedo(): boolean {
    return this.undone.length > 0;
  }

  push(step: readonly Change[]): void {
    this.done.push(step);
    this.undone.length = 0;
  }

  /** the changes that take the last step back */
  undo(): readonly Change[] | undefined {
    const step = this.done.pop();
    if (step === undefined) return undefined;
    this.undone.push(step);
    return [...step].reverse().map((change) => ({ ...change, was: change.to, to: change.was }));
  }

  redo(): readonly Change[] | undefined {
    const step = this.undone.pop();
    if (step !== undefined) this.done.push(step);
    return step;
  }
}
