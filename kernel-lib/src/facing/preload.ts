import { MeasurementError } from "../measurement-error.js";
import type { RandomStream } from "../numerics/index.js";
import { display, type Force, type Length, type MimeBundle, plain, type Torque } from "../quantity/index.js";
import { type Budget, budget, input } from "../uncertainty/index.js";
import { type Bolt, bolt, type PropertyClass } from "./bolt.js";
import { capScrew } from "./cap-screw.js";
import { greatestPreload, headFrictionDiameter, preloadFromTorque, tighteningTorque } from "./tightening.js";

/** Screw, friction and wrench: what stands between torque and preload. */
export interface ScrewSpec {
  /** "M10" */
  readonly thread: string;
  /** on the head of the screw */
  readonly propertyClass: PropertyClass;
  /** least and greatest friction in thread and under the head, such as [0.10, 0.16] for oiled steel */
  readonly friction: readonly [least: number, greatest: number];
  /** limits of the wrench as a share of its reading, such as 0.06 for ± 6 % */
  readonly wrench: number;
  /** outer diameter of a washer; the head itself bears where left out */
  readonly washerDiameter?: Length;
}

/** Preload of a screw from its torque, with its scatter; made by `facing.preload`. */
export class Preload {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  constructor(
    readonly screw: ScrewSpec,
    readonly bolt: Bolt,
    readonly torque: Torque,
    /** middle of the limits, with u and what it comes from */
    readonly force: Budget<"force">,
    /** greatest friction and least torque together: what is counted on for holding */
    readonly low: Force,
    /** least friction and greatest torque together: what bears on screw, slot and plate */
    readonly high: Force,
    /** high preload as a share of what the screw bears while it is tightened */
    readonly useOfScrew: number,
  ) {
    Object.freeze(this);
  }

  /** high over low */
  get scatter(): number {
    return this.high.si / this.low.si;
  }

  toString(): string {
    const { bolt: screw, torque, force, low, high } = this;
    return `${screw.thread} ${screw.propertyClass} at ${torque.text("N.m")}: preload ${force.text("kN")}, limits ${low.in("kN").toFixed(1)} kN to ${high.in("kN").toFixed(1)} kN (${this.scatter.toFixed(2)} times), at the most ${(100 * this.useOfScrew).toFixed(0)} % of what the screw bears`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Preload from tightening torque, with its scatter: friction in thread and under the head and the wrench as limits.
 *
 * `force` is a budget; `low` and `high` take all limits together: high counts where something may be overloaded or
 * bent, low where it has to hold.
 *
 * @throws MeasurementError `unknown-thread`, `property-class`, `friction`, `wrench`, `overtightened`
 * @see VDI 2230:2001 for the formula; limits of friction are the reader's (common practice, no source)
 * @example
 * const screw = { thread: "M10", propertyClass: "8.8", friction: [0.1, 0.16], wrench: 0.06 };
 * facing.preload(screw, newtonMetre(30)).low.in("kN").toFixed(1) // => "13.1"
 */
export function preload(screw: ScrewSpec, torque: Torque): Preload {
  const { friction, wrench } = screw;
  const most = mostTorque(screw);
  if (!(torque.si > 0 && torque.si <= most.si)) {
    throw new MeasurementError(
      "overtightened",
      `facing.preload: ${torque.text("N.m")} on ${screw.thread} ${screw.propertyClass}; with friction from ${friction[0]} and a wrench of ± ${(100 * wrench).toFixed(0)} % give more than zero and at most ${most.in("N.m").toFixed(0)} N·m`,
    );
  }
  const steel = bolt(screw.thread, screw.propertyClass);
  const rubbing = rubbingDiameter(screw);
  const at = (turned: number, mu: number) =>
    preloadFromTorque(steel, torque.times(turned), { thread: mu, head: mu }, rubbing);
  const high = at(1 + wrench, friction[0]);
  const [lower, upper] = friction.map(plain) as [ReturnType<typeof plain>, ReturnType<typeof plain>];
  const source = "limits given by the reader";
  const force = budget({
    measurand: `preload of ${screw.thread} at ${torque.text("N.m")}`,
    inputs: {
      threadFriction: input.rectangular({ label: "friction in the thread", lower, upper, source }),
      headFriction: input.rectangular({ label: "friction under the head", lower, upper, source }),
      wrench: input.rectangular({ label: "wrench", estimate: plain(1), halfWidth: plain(wrench), source }),
    },
    model: (v) =>
      preloadFromTorque(
        steel,
        torque.times(v.wrench.si),
        { thread: v.threadFriction.si, head: v.headFriction.si },
        rubbing,
      ),
  });
  const bears = greatestPreload(steel, friction[0]);
  return new Preload(screw, steel, torque, force, at(1 - wrench, friction[1]), high, high.si / bears.si);
}

/**
 * Greatest torque that the screw itself bears: least friction, wrench at its upper limit.
 *
 * @throws MeasurementError `unknown-thread`, `property-class`, `friction`, `wrench`
 * @see VDI 2230:2001
 * @example
 * facing.mostTorque({ thread: "M10", propertyClass: "8.8", friction: [0.1, 0.16], wrench: 0.06 }).in("N.m").toFixed(0) // => "41"
 */
export function mostTorque(screw: ScrewSpec): Torque {
  const { friction, wrench } = screw;
  if (!(friction[0] > 0 && friction[0] < friction[1] && friction[1] < 1)) {
    throw new MeasurementError(
      "friction",
      `facing.preload: friction from ${friction[0]} to ${friction[1]}; give least and greatest between 0 and 1, such as [0.1, 0.16] for oiled steel`,
    );
  }
  if (!(wrench > 0 && wrench < 1)) {
    throw new MeasurementError(
      "wrench",
      `facing.preload: a wrench of ± ${wrench}; give its limits as a share of the reading, such as 0.06`,
    );
  }
  const steel = bolt(screw.thread, screw.propertyClass);
  const least = { thread: friction[0], head: friction[0] };
  return tighteningTorque(steel, greatestPreload(steel, friction[0]), least, rubbingDiameter(screw)).over(1 + wrench);
}

/** Preload in N of one screw, drawn: friction anywhere within its limits, the wrench as given (1 = true). */
export function drawnPreloadN({ screw, bolt: steel, torque }: Preload, wrench: number, random: RandomStream): number {
  const [least, greatest] = screw.friction;
  const mu = () => least + (greatest - least) * random.uniform();
  const friction = { thread: mu(), head: mu() };
  return preloadFromTorque(steel, torque.times(wrench), friction, rubbingDiameter(screw)).in("N");
}

/** Area under head or washer, the hole taken off, mm². */
export function bearingAreaMm2({ thread, washerDiameter }: ScrewSpec): number {
  const { headDiameter, clearanceHole } = capScrew(thread);
  return (Math.PI / 4) * ((washerDiameter ?? headDiameter).in("mm") ** 2 - clearanceHole.in("mm") ** 2);
}

/** what a preload is, low and high, for each newton-metre of torque */
export function preloadPerTorque(screw: ScrewSpec): { readonly low: number; readonly high: number } {
  const one = preload(screw, mostTorque(screw));
  return { low: one.low.si / one.torque.si, high: one.high.si / one.torque.si };
}

function rubbingDiameter({ thread }: ScrewSpec): Length {
  const { headDiameter, clearanceHole } = capScrew(thread);
  return headFrictionDiameter(headDiameter, clearanceHole);
}
