import {
  type CuttingSpeed,
  display,
  type Force,
  type Length,
  type MimeBundle,
  mPerMin,
  Quantity,
  type Time,
  type UnitNames,
} from "../quantity/index.js";
import { durationText } from "../survey/plan.js";
import type { Budget, MonteCarlo } from "../uncertainty/index.js";
import { cutCautions } from "./cautions.js";
import type { ClimbMilling } from "./climb.js";
import type { ConditionsInput } from "./conditions-input.js";
import type { Engagement } from "./engagement.js";
import type { CuttingLoad } from "./hold-down-limits.js";
import type { CuttingProgram } from "./program.js";
import type { SpeedRange } from "./speed-range.js";

/** What is worked out of a job for its cut. */
export interface ConditionsFacts extends Pick<ConditionsInput, "job" | "edge" | "material" | "motor" | "warmUp"> {
  readonly program: CuttingProgram;
  readonly engagement: Engagement;
  /** taken off by each round */
  readonly bites: readonly Length[];
  readonly speedRange: SpeedRange;
  readonly climbing: ClimbMilling;
  /** while a tooth cuts in the widest pass of the deepest bite, at the mean chip */
  readonly force: Budget<"force">;
  readonly lift: Budget<"force">;
  /** at the thickest chip of that pass */
  readonly greatestToothForce: Force;
  /** from the motor, mean over a turn */
  readonly power: Budget<"power">;
  /** yield per depth of cut */
  readonly giving: Budget<"number">;
  /** of the spindle and holder against the table after the last round */
  readonly deflection: MonteCarlo<"length">;
  /** share of the old form left in the finish */
  readonly copiedShare: MonteCarlo<"number">;
  readonly copied: MonteCarlo<"length">;
  readonly time: Budget<"time">;
}

/** Conditions of a facing cut; made by `facing.cuttingConditions`. */
export class CuttingConditions {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly cautions: readonly string[] = cutCautions;
  /** power and speed suit */
  readonly safe: boolean;
  readonly cuttingSpeed: CuttingSpeed;

  /** @internal made by `cuttingConditions` */
  constructor(readonly facts: ConditionsFacts) {
    const { job } = facts;
    this.cuttingSpeed = mPerMin((Math.PI * job.cutter.diameter.in("mm") * job.speed.in("1/min")) / 1000);
    this.safe = this.faults.length === 0;
    Object.freeze(this);
  }

  /** what has to be changed before this is cut */
  get faults(): readonly string[] {
    const { power, motor, speedRange, edge } = this.facts;
    const most = power.interval()[1];
    const faults: string[] = [];
    if (!(most.si <= motor.power.si)) {
      const [drawn, held] = toldApart(most, motor.power);
      faults.push(`up to ${drawn} is drawn and the motor has ${held}: cut less deep, or feed less`);
    }
    if (!(this.cuttingSpeed.si <= speedRange.high.si * (1 + 1e-9))) {
      faults.push(
        `${speedText(this.cuttingSpeed)} is above the ${speedText(speedRange.high)} usual for ${edge} in ${this.facts.material}: turn slower`,
      );
    }
    return faults;
  }

  /** what the reader should know */
  get notes(): readonly string[] {
    const { engagement, speedRange, edge, material, warmUp, bites } = this.facts;
    return [
      ...(this.cuttingSpeed.si < speedRange.low.si
        ? [
            `slower than the ${speedText(speedRange.low)} usual for ${edge} in ${material}: allowed, the edge may build up`,
          ]
        : []),
      ...(engagement.meanChip.in("mm") < 0.05
        ? ["a mean chip below 0.05 mm rubs: the law is held there, and the force may be larger; feed more per tooth"]
        : []),
      ...(bites.length === 1 ? ["one round only: rough first and leave 0.2 mm to 0.3 mm, so that less is copied"] : []),
      ...(bites.some((bite) => bite.si <= 1e-12)
        ? []
        : [
            "one more round at the last depth, offset by half a step, takes off the spring that the last one left and makes the ridges lower",
          ]),
      ...(material.startsWith("aluminium") ? ["cutting fluid, and chips cleared between passes"] : []),
      ...(warmUp ? [] : ["no warm-up curve was given: run at speed until two readings half an hour apart agree"]),
      `speeds: ${speedRange.source}`,
      "force by Kienzle's law at the mean chip; makers' tables differ by 5 to 20 %, a worn edge by more",
    ];
  }

  /** what the hold-down has to bear: the upper ends of force and lift, for `facing.holdDown` */
  get load(): CuttingLoad {
    return { force: this.facts.force.interval()[1], lift: this.facts.lift.interval()[1] };
  }

  /** wait at cutting speed that is enough with 95 % confidence, one limit; absent where no warm-up curve was given */
  get warmUpWait(): Time | undefined {
    const { warmUp } = this.facts;
    if (!warmUp) return undefined;
    return Quantity.fromSi(
      "time",
      Math.max(0, warmUp.value.si + warmUp.coverageFactor(0.9) * warmUp.standardUncertainty.si),
    );
  }

  /** below first contact, by all rounds but the last that takes metal */
  get roughDepth(): Length {
    const { bites, job } = this.facts;
    return job.rounds.at(-1)!.depth.minus(lastBite(bites));
  }

  /** the last bite that takes metal */
  get finishDepth(): Length {
    return lastBite(this.facts.bites);
  }

  toString(): string {
    const { job, program, power, copied, time } = this.facts;
    const verdict = this.safe ? "the cut suits" : `the cut does not suit: ${this.faults.join("; ")}`;
    return `${job.name}: ${speedText(this.cuttingSpeed)}, feed ${program.feed.in("mm/min").toFixed(0)} mm/min, power ${power.text("W")}, ${bandText(copied, "um", 1)} of the old form left, ${timeText(time)}: ${verdict}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/** "3 h 38 min", or with its ± where it has one */
export function timeText(time: Budget<"time">): string {
  return time.standardUncertainty.si > 0 ? time.text("min") : durationText(time.value);
}

function lastBite(bites: readonly Length[]): Length {
  return bites.findLast((bite) => bite.si > 1e-12)!;
}

function speedText(speed: CuttingSpeed): string {
  return `${speed.in("m/min").toFixed(0)} m/min`;
}

/** @internal the 95 % interval of a simulated figure, its ends as printed */
export function bandText<K extends "length" | "number">(
  of: MonteCarlo<K>,
  unit: UnitNames[K],
  decimals: number,
): string {
  const least = 10 ** -decimals;
  const symbol = unit === "um" ? "µm" : unit;
  const [low, high] = of.symmetric.map((end) => `${end.in(unit).toFixed(decimals)} ${symbol}`);
  return of.symmetric[1].in(unit) < least / 2 ? `below ${least} ${symbol}` : `${low} to ${high}`;
}

/** Two powers, the first above the second, with as many digits as show it. */
function toldApart(more: Quantity<"power">, less: Quantity<"power">): readonly [string, string] {
  const unit = more.in("kW") < 1 ? "W" : "kW";
  const print = (decimals: number) => [more, less].map((power) => `${power.in(unit).toFixed(decimals)} ${unit}`);
  const texts = Array.from({ length: 9 }, (_, i) => print(i + (unit === "W" ? 0 : 2)));
  const [drawn, held] = texts.find(([a, b]) => a !== b) ?? texts[8]!;
  return [drawn!, held!];
}
