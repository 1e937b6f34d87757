import type { BlockWord } from "./replay-blocks.js";
import type { ReplayShop } from "./replay-shop.js";

/** The spindle as the text leaves it: nothing is known of it at first. */
export class Spindle {
  dwellS = 0;
  private state: "unknown" | "still" | "turning" = "unknown";
  /** longest wait since the start */
  private waitedS = 0;

  constructor(
    private readonly shop: ReplayShop,
    private readonly refuse: (code: string, sentence: string) => void,
  ) {}

  start(speed: number | undefined, isClear: boolean): void {
    const { speedPerMin, greatestPerMin } = this.shop;
    if (speed === undefined) this.refuse("speed", "M3 without S turns as fast as the last program left it");
    else if (speed > greatestPerMin * (1 + 1e-9)) {
      this.refuse("speed", `S ${speed} 1/min is above the ${greatestPerMin} 1/min marked on the cutter`);
    } else if (!(Math.abs(speed - speedPerMin) <= 0.01 * speedPerMin)) {
      this.refuse("speed", `S ${speed} 1/min; planned are ${Number(speedPerMin.toFixed(3))} 1/min`);
    }
    if (!isClear) this.refuse("spindle", "the spindle starts where the cutter is not known to be clear of everything");
    this.state = "turning";
    this.waitedS = 0;
  }

  stop(): void {
    this.state = "still";
  }

  wait(rest: readonly BlockWord[]): void {
    const [time] = rest;
    if (!time || rest.length > 1 || time.address !== "P" || !(time.value > 0)) {
      this.refuse("dwell", "G4 needs P, a time in seconds above zero, and nothing else");
      return;
    }
    this.dwellS += time.value;
    this.waitedS = Math.max(this.waitedS, time.value);
  }

  needStill(code: number): void {
    if (this.state === "still") return;
    this.refuse("spindle", `M${code} while the spindle is not known to stand; M5 comes before it`);
  }

  needTurning(): void {
    if (this.state !== "turning") this.refuse("spindle", "feeds while the spindle is not known to turn");
    else if (!(this.waitedS >= this.shop.spinUpS - 1e-9)) {
      const needed = `it needs ${this.shop.spinUpS} s to come up to speed`;
      this.refuse("dwell", `feeds after a wait of ${this.waitedS} s since the start of the spindle; ${needed}`);
    }
  }
}
