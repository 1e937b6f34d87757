import { display, type MimeBundle, Quantity, type Time } from "../quantity/index.js";
import type { Measured } from "../uncertainty/index.js";

/** How long to wait until something about a warm-up is so, with the doubt of the fit. */
export class Wait {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by the methods of `Settling` */
  constructor(
    /** what is waited for: "the rate is below 1 µm in 10 min" */
    readonly what: string,
    /** the record */
    readonly name: string,
    /** from the first reading of the record; 0 where it was so from the start */
    readonly time: Measured<"time">,
    /** from the first reading of the record to the last */
    readonly lastReading: Time,
  ) {
    Object.freeze(this);
  }

  /** The time by which it is so with 95 % confidence, one limit: t + k u, k from Student's t. */
  get sureBy(): Time {
    const k = this.time.coverageFactor(0.9);
    return Quantity.fromSi("time", this.time.value.si + k * this.time.standardUncertainty.si);
  }

  /** how long after the last reading it is so with 95 % confidence; zero where that is past */
  get stillToWait(): Time {
    return Quantity.fromSi("time", Math.max(0, this.sureBy.si - this.lastReading.si));
  }

  /** One sentence: when, with its uncertainty, and how long to wait from the last reading. */
  toString(): string {
    if (this.time.value.si === 0) return `${this.name}: ${this.what} from the first reading on`;
    const left = Math.ceil(this.stillToWait.in("min"));
    const then =
      left > 0 ? `wait ${left} min more after the last reading to be 95 % sure` : "with 95 % confidence that is past";
    return `${this.name}: ${this.what} from ${this.time.text("min")} after the first reading on; ${then}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}
