import { MeasurementError } from "../measurement-error.js";
import {
  display,
  type Length,
  type MimeBundle,
  mm,
  newtonMetre,
  type Pressure,
  Quantity,
  type Torque,
} from "../quantity/index.js";
import { sizeText } from "../quantity/size-text.js";
import { bolt } from "./bolt.js";
import { cutCautions } from "./cautions.js";
import { type CuttingLoad, type HoldDownCase, lowerLimits, type TorqueLimit, upperLimits } from "./hold-down-limits.js";
import type { Plate } from "./plate.js";
import { bearingAreaMm2, type Preload, preload, type ScrewSpec } from "./preload.js";

export interface HoldDownInput extends Omit<HoldDownCase, "screw" | "cutting"> {
  /** greatest force and lift of the cut, or the conditions that they are worked out in */
  readonly cutting: CuttingLoad | { readonly load: CuttingLoad };
  /** class of the screws, friction and wrench; the thread is that of the plate */
  readonly screw: Omit<ScrewSpec, "thread">;
  /** under the head */
  readonly screwLength: Length;
  /** thickness of a washer */
  readonly washer?: Length;
  /** your own choice; left out: half of what is allowed, and never less than holds */
  readonly torque?: Torque;
}

/** How a plate is held down; made by `facing.holdDown`. */
export class HoldDown {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** the least of screw, nut, slot lip, bearing and shear */
  readonly most: TorqueLimit;
  /** what has to be exceeded to hold four times the cut */
  readonly least: TorqueLimit;
  readonly safe: boolean;
  readonly cautions: readonly string[] = cutCautions;
  readonly notes: readonly string[] = [
    "read an indicator beside each screw while it is tightened; shim rather than pull the plate down",
    "high end of the scatter where something may be overloaded, low end where it has to hold; limits all together, not 95 %",
    "torque no greater than needed: what bends the plate down comes back when it is released",
  ];

  constructor(
    readonly plate: Plate,
    readonly preload: Preload,
    /** what bounds the torque from above */
    readonly upper: readonly TorqueLimit[],
    /** what bounds it from below */
    readonly lower: readonly TorqueLimit[],
    /** thread in the nut */
    readonly engaged: Length,
    /** from the tip of the screw to the floor of the slot */
    readonly tipClear: Length,
    /** under the head at the high end of the scatter */
    readonly pressure: Pressure,
    /** force and lift of the cut that it is made to hold four times over */
    readonly load: CuttingLoad,
  ) {
    this.most = upper.reduce((a, b) => (b.torque.si < a.torque.si ? b : a));
    this.least = lower.reduce((a, b) => (b.torque.si > a.torque.si ? b : a));
    const torque = preload.torque.si;
    this.safe = torque >= this.least.torque.si && torque <= this.most.torque.si;
    Object.freeze(this);
  }

  get torque(): Torque {
    return this.preload.torque;
  }

  /** What a cut asks for beyond what this hold-down was worked out for, in words; empty where it bears the cut. */
  shortOf(load: CuttingLoad): readonly string[] {
    return (["force", "lift"] as const).flatMap((way) => {
      const [made, asked] = [this.load[way], load[way]];
      if (asked.si <= made.si * (1 + 1e-9)) return [];
      return [
        `the cut may ${way === "force" ? "push" : "lift"} with ${asked.in("N").toFixed(1)} N and the hold-down was worked out for ${made.in("N").toFixed(1)} N`,
      ];
    });
  }

  /** The three rounds of tightening, middle outward: 40 %, 70 % and all of the torque (common practice, no source). */
  get rounds(): readonly Torque[] {
    return [0.4, 0.7, 1].map((share) => this.torque.times(share));
  }

  toString(): string {
    const { plate, torque, most, least } = this;
    const print = (value: Torque) => value.in("N.m").toFixed(1);
    const verdict = this.safe
      ? "holds, nothing overloaded"
      : torque.si > most.torque.si
        ? `not safe: ${most.what} is overloaded`
        : `not safe: ${least.what} asks for more`;
    return `${plate.screws.length} screws ${plate.thread} ${this.preload.bolt.propertyClass} at ${print(torque)} N·m (${this.rounds.map((round) => `${print(round)} N·m`).join(", ")}): ${verdict}; at least ${print(least.torque)} N·m (${least.what}), at most ${print(most.torque)} N·m (${most.what})`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Hold-down of a plate: torque as the least of screw, nut, slot lip, bearing and shear of the plate, against the least that
 * holds four times the cutting force; thread engaged and tip clear of the slot floor.
 *
 * The high end of the preload's scatter counts for what may be overloaded, the low end for what has to hold. A torque
 * outside of the limits is not refused: `safe` is false and the sentence says why.
 *
 * @throws MeasurementError `engagement`, `slot-floor`, `not-positive`, `overtightened`, `friction`, `wrench`, `unknown-thread`, `property-class`
 * @see VDI 2230:2001 (screw); the rest is common practice, no source
 * @example
 * const slots = [50, 110, 170].map((y) => ({ along: "x", at: mm(y), width: mm(12) }));
 * const area = facing.area(mm(60), mm(460), mm(20), mm(200));
 * const screws = facing.screwPattern({ area, slots, spacing: mm(120), fromEnd: mm(30) });
 * const plate = facing.plate({ name: "fixture plate", area, thickness: mm(25), thicknessWithin: mm(0.2), material: facing.plateMaterial("aluminium 6061-T651"), slots, screws, thread: "M10", counterboreDepth: mm(13), deepestCut: mm(0.5) });
 * const nut = { length: mm(25), width: mm(18), threadHeight: mm(14), threadBelowTable: mm(3) };
 * facing.holdDown({ plate, screw: { propertyClass: "8.8", friction: [0.1, 0.16], wrench: 0.06 }, slot: facing.tSlot("M10"), nut, table: { tensileStrength: MPa(150), reserve: 3 }, screwLength: mm(30), jointFriction: 0.1, cutting: { force: newton(300), lift: newton(100) } }).most.what // => "slot lip, bending"
 */
export function holdDown(given: HoldDownInput): HoldDown {
  const cutting = "load" in given.cutting ? given.cutting.load : given.cutting;
  const input = { ...given, cutting };
  const { plate, slot } = input;
  needPositive(input);
  const screw: ScrewSpec = { ...input.screw, thread: plate.thread };
  const engaged = needEngaged(input);
  const upper = upperLimits({ ...input, screw, engaged });
  const lower = lowerLimits({ ...input, screw });
  const most = Math.min(...upper.map(({ torque }) => torque.in("N.m")));
  const least = Math.max(...lower.map(({ torque }) => torque.in("N.m")));
  const turned = preload(screw, input.torque ?? newtonMetre(chosen(least, most)));
  return new HoldDown(
    plate,
    turned,
    upper,
    lower,
    engaged,
    slot.depth.minus(below(input)),
    Quantity.fromSi("pressure", turned.high.si / (bearingAreaMm2(screw) * 1e-6)),
    cutting,
  );
}

/** an input whose load is told in figures */
type Known = Omit<HoldDownInput, "cutting"> & { readonly cutting: CuttingLoad };

/** half of what is allowed keeps a screw from working loose (common practice, no source); half newton-metres as wrenches are set */
function chosen(least: number, most: number): number {
  const middle = Math.max(Math.ceil(least * 2), Math.floor(most)) / 2;
  return Math.min(middle, Math.floor(most * 2) / 2);
}

/** how far the screw reaches below the top of the table */
function below({ plate, screwLength, washer }: Known): Length {
  return screwLength.minus(plate.web).minus(washer ?? mm(0));
}

function needEngaged(input: Known): Length {
  const { plate, nut, slot, screwLength, washer } = input;
  const tip = below(input);
  const { diameter } = bolt(plate.thread, input.screw.propertyClass);
  const grip = plate.web.plus(washer ?? mm(0));
  const shortest = grip.plus(nut.threadBelowTable).plus(diameter);
  const longest = grip.plus(slot.depth).minus(mm(1));
  const fits = `lengths from ${shortest.in("mm").toFixed(1)} mm to ${longest.in("mm").toFixed(1)} mm fit`;
  const given = `a screw ${screwLength.text("mm")} long reaches ${tip.in("mm").toFixed(1)} mm below the top of the table`;
  const bottom = nut.threadBelowTable.plus(nut.threadHeight);
  const engaged = Quantity.fromSi("length", Math.min(tip.si, bottom.si) - nut.threadBelowTable.si);
  if (!(engaged.si >= diameter.si - 1e-9)) {
    refuse(
      "engagement",
      `${given}, with ${engaged.in("mm").toFixed(1)} mm of thread in the nut; one diameter, ${diameter.text("mm")}, is needed: ${fits}, in a nut with as much thread`,
    );
  }
  if (!(slot.depth.si - tip.si >= 0.001 - 1e-9)) {
    refuse(
      "slot-floor",
      `${given}, in a slot ${slot.depth.text("mm")} deep; 1 mm has to stay above its floor: ${fits}`,
    );
  }
  return engaged;
}

function needPositive({ slot, nut, table, cutting, jointFriction, screwLength }: Known): void {
  const sizes = { ...slot, nutLength: nut.length, nutWidth: nut.width, screwLength, ...cutting };
  const strength = nut.proofStress ? { nutProofStress: nut.proofStress } : {};
  for (const [name, value] of Object.entries({ ...sizes, ...strength })) {
    if (!(value.si > 0)) refuse("not-positive", `${name} is ${sizeText(value)}; give a value above zero`);
  }
  if (!(nut.width.si > slot.throat.si && nut.width.si <= slot.recessWidth.si)) {
    refuse(
      "nut",
      `a nut ${nut.width.text("mm")} wide in a slot with a throat of ${slot.throat.text("mm")} and a wide part of ${slot.recessWidth.text("mm")}; it has to lie between the two, measure both`,
    );
  }
  if (!(jointFriction > 0 && jointFriction < 1)) {
    refuse(
      "friction",
      `a friction of ${jointFriction} between plate and table; give the least to be counted on, such as 0.1`,
    );
  }
  if (!(table.tensileStrength.si > 0 && table.reserve >= 1)) {
    refuse(
      "not-positive",
      `a table of ${table.tensileStrength.text("MPa")} with a reserve of ${table.reserve}; give its tensile strength and a reserve of 1 or more, 3 for old iron`,
    );
  }
}

function refuse(code: string, sentence: string): never {
  throw new MeasurementError(code, `facing.holdDown: ${sentence}`);
}
