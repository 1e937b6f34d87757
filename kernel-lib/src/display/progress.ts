import { visible } from "../figure/markup.js";
import { MeasurementError } from "../measurement-error.js";
import { counted } from "../words.js";
import { makeBundle } from "./bundle.js";
import { currentChannel } from "./channel.js";
import { html } from "./html.js";

/** Where a progress line goes and what time it is; a test gives its own. */
export interface ProgressSurroundings {
  /** milliseconds from any origin */
  readonly now: () => number;
  /** shows the state, or takes the line away for `undefined`; absent where nobody looks */
  readonly show?: (state: ProgressState | undefined) => void;
}

export interface ProgressState {
  readonly label: string;
  readonly doneCount: number;
  readonly total: number;
  /** estimated from the pace so far */
  readonly secondsLeft: number;
}

const quietMs = 500;
const betweenMs = 200;
let shownSoFar = 0;

/** Progress of a longer calculation: shows after half a second, at most five times a second, with the time left. */
export class Progress {
  private doneCount = 0;
  private expected: number;
  private cancelled = false;
  private lastShown: number | undefined;
  private readonly started: number;

  constructor(
    readonly total: number,
    readonly label: string,
    private readonly surroundings: ProgressSurroundings = surroundingsNow(),
  ) {
    if (!(total > 0)) {
      throw new MeasurementError(
        "no-total",
        `progress "${label}": ${counted(total, "step")} in all; give a number above zero`,
      );
    }
    this.expected = total;
    this.started = this.surroundings.now();
  }

  /** How many steps there will be after all, where a calculation learns that on the way. */
  expect(total: number): void {
    if (!(total > 0)) {
      throw new MeasurementError(
        "no-total",
        `progress "${this.label}": ${counted(total, "step")} expected; give a number above zero`,
      );
    }
    this.expected = total;
  }

  /**
   * Counts steps done, and stops the calculation when `cancel()` was called.
   *
   * @throws MeasurementError `cancelled`
   */
  tick(count = 1): void {
    if (this.cancelled) {
      this.hide();
      throw new MeasurementError(
        "cancelled",
        `${this.label}: stopped at ${this.doneCount} of ${this.expected}; run it again for the whole`,
      );
    }
    this.doneCount += count;
    const now = this.surroundings.now();
    const next = this.lastShown === undefined ? this.started + quietMs : this.lastShown + betweenMs;
    if (now < next) return;
    this.lastShown = now;
    const pace = (now - this.started) / 1000 / Math.max(this.doneCount, 1);
    const total = Math.max(this.expected, this.doneCount);
    const secondsLeft = pace * (total - this.doneCount);
    this.surroundings.show?.({ label: this.label, doneCount: this.doneCount, total, secondsLeft });
  }

  /** Takes the line away; the result itself says what came of it. */
  done(): void {
    this.hide();
  }

  /** The next `tick` throws. */
  cancel(): void {
    this.cancelled = true;
  }

  toString(): string {
    return `${this.label}: ${this.doneCount} of ${this.expected}`;
  }

  private hide(): void {
    if (this.lastShown !== undefined) this.surroundings.show?.(undefined);
    this.lastShown = undefined;
  }
}

/**
 * A progress handle for a loop of one's own: `.tick()` in the loop, `.done()` after it.
 *
 * @example
 * progress(1000, "simulating").total // => 1000
 */
export function progress(total: number, label: string): Progress {
  return new Progress(total, label);
}

/** One line of a state. */
export function progressText({ label, doneCount, total, secondsLeft }: ProgressState): string {
  const left = secondsLeft < 90 ? `${Math.ceil(secondsLeft)} s` : `${Math.ceil(secondsLeft / 60)} min`;
  return `${label}: ${doneCount} of ${total}, about ${left} left`;
}

function surroundingsNow(): ProgressSurroundings {
  const now = (): number => performance.now();
  if (currentChannel()?.headless === true) return { now };
  if (currentChannel() !== undefined) return { now, show: inNotebook() };
  return process.stderr.isTTY ? { now, show: inTerminal } : { now };
}

function inNotebook(): (state: ProgressState | undefined) => void {
  const id = `dialbook-progress-${++shownSoFar}`;
  let shown = false;
  return (state) => {
    const text = state === undefined ? "" : progressText(state);
    const bar =
      state === undefined
        ? html``
        : html`<p class="db-notes">${state.label}<progress max="${String(state.total)}" value="${String(state.doneCount)}"></progress>${text.slice(state.label.length + 2)}</p>`;
    const bundle = makeBundle(text, bar);
    if (shown) currentChannel()?.update(bundle, id);
    else currentChannel()?.show(bundle, id);
    shown = true;
  };
}

function inTerminal(state: ProgressState | undefined): void {
  process.stderr.write(`\r\u001b[2K${state === undefined ? "" : visible(progressText(state)).replaceAll("\n", " ")}`);
}
