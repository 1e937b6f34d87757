import { MeasurementError } from "../measurement-error.js";
import { display, type MimeBundle, Quantity } from "../quantity/index.js";
import { type Budget, budget, type Measured } from "../uncertainty/index.js";
import { counted } from "../words.js";
import { type Known, needKnown } from "./material.js";

/** The screws of the joint. */
export interface JointSpec {
  /** preload of one screw; the preload from a torque carries its scatter */
  readonly preload: Known<"force">;
  /** how many screws, spread evenly over the length */
  readonly screws: number;
  /** friction between the two parts, dry or oiled as they are */
  readonly friction: Known<"number">;
}

/** What is asked of the joint. */
interface Asked {
  readonly free: Budget<"force">;
  readonly flat: Budget<"force">;
  readonly bow: Budget<"length">;
}

export type JointState = "sticks" | "slips" | "not decided";

/** one limit at 95 % */
const guard = 1.645;

/**
 * Whether friction carries the force between two unlike metals. Each half of the length has to build up the force at the
 * middle, so half of the screws count on each side: capacity = µ × preload × screws / 2.
 *
 * It sticks where the capacity less 1.645 u exceeds even the force with the pair held flat; it slips where the capacity and
 * 1.645 u fall short even of the smaller force with the pair free to bow; otherwise it is not decided.
 */
export class Joint {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly capacity: Budget<"force">;
  readonly state: JointState;
  /** the bow lies between none and this: the bonded one, or what friction can hold bent */
  readonly bowAtMost: Measured<"length">;

  /** @internal made by `boltedPair` */
  constructor({ preload, screws, friction }: JointSpec, { free, flat, bow }: Asked) {
    checkJoint(preload, screws, friction);
    this.capacity = budget({
      measurand: "force that friction carries on each half",
      inputs: { preload, friction },
      model: (given) => Quantity.fromSi("force", (given.friction.si * given.preload.si * screws) / 2),
    });
    const beyond = (force: Budget<"force">) => this.capacity.minus(force.times(Math.sign(force.value.si) || 1));
    const margin = (difference: Measured<"force">, sign: 1 | -1) =>
      sign * difference.value.si - guard * difference.standardUncertainty.si > 0;
    const sticks = margin(beyond(flat), 1);
    this.state = sticks ? "sticks" : margin(beyond(free), -1) ? "slips" : "not decided";
    this.bowAtMost = this.state === "slips" ? heldBow(this.capacity, free, bow) : bow;
    Object.freeze(this);
  }

  /** Whether it sticks, with the figures that say so. */
  toString(): string {
    const held = `friction carries ${this.capacity.text("kN")}`;
    const said = {
      sticks: "the joint sticks",
      slips: "the joint slips and need not come back to where it was",
      "not decided": "it is not decided whether the joint slips",
    }[this.state];
    return `${held}: ${said}, bow between none and ${this.bowAtMost.text("um")}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/** friction bends the pair in proportion to the force it carries */
function heldBow(capacity: Budget<"force">, free: Budget<"force">, bow: Budget<"length">): Measured<"length"> {
  return budget({
    measurand: "bow that friction can hold",
    inputs: { capacity, free, bow },
    model: (given) => Quantity.fromSi("length", (given.bow.si * given.capacity.si) / Math.abs(given.free.si)),
  });
}

function checkJoint(preload: Known<"force">, screws: number, friction: Known<"number">): void {
  needKnown("boltedPair", "preload", preload, "force", true);
  needKnown("boltedPair", "friction", friction, "number", true);
  if (Number.isInteger(screws) && screws >= 2) return;
  throw new MeasurementError(
    "heat-value",
    `boltedPair: ${counted(screws, "screw")}; give how many screws hold the pair, 2 or more`,
  );
}
