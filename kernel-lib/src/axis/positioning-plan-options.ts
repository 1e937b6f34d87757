import { MeasurementError } from "../measurement-error.js";
import { type Feed, type Length, mm, mmPerMin, Quantity, seconds, type Time } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import { sizeText } from "../quantity/size-text.js";
import type { Gauge } from "../survey/index.js";
import { blockStacks } from "./block-stacks.js";
import { type LengthReference, referenceInputs } from "./length-reference.js";
import { type DrivePeriods, periodsOf } from "./periods.js";
import { type DrawnTargets, drawnTargets, type NamedPeriod } from "./positioning-targets.js";
import type { AxisName } from "./positioning-test.js";

export interface PositioningPlanOptions extends DrivePeriods {
  readonly axis: AxisName;
  /** the stretch to be tested, low end first */
  readonly travel: readonly [Length, Length];
  readonly gauge: Gauge;
  /** what carries the length */
  readonly reference: LengthReference;
  readonly title?: string;
  /** 5 unless said otherwise, as the standard asks */
  readonly perMetre?: number;
  /** runs up and down; 5 unless said otherwise, as the standard asks */
  readonly cycles?: number;
  /** the blocks at hand, each used once in a stack; without them the targets are free */
  readonly blocks?: readonly Length[];
  /** blocks in one stack at most; 3 unless said otherwise */
  readonly blocksTogether?: number;
  /** targets are rounded to this, 0.1 mm; give the microstep's multiple where the control rounds */
  readonly landOn?: Length;
  /** beyond the outermost targets before each turn; 2 mm unless said otherwise, and more than the play */
  readonly overTravel?: Length;
  /** stillness before each reading; 3 s unless said otherwise */
  readonly dwell?: Time;
  /** reading and writing down; 10 s, or 60 s where a stack is changed */
  readonly timePerReading?: Time;
  /** 300 mm/min unless said otherwise */
  readonly feed?: Feed;
  /** what will be written down: what a dial shows, or where a scale says it stands */
  readonly reads?: "deviation" | "position";
  /** whether gravity acts along the axis; Z unless said otherwise */
  readonly vertical?: boolean;
  readonly seed?: number;
}

export interface ReadPlanOptions {
  readonly drawn: DrawnTargets;
  readonly periods: readonly NamedPeriod[];
  readonly cycles: number;
  readonly overTravelMm: number;
  readonly dwell: Time;
  readonly timePerReading: Time;
  readonly timeOfPath: (pathMm: number) => Time;
}

/** The options of a plan looked at, and its targets drawn. */
export function readPlanOptions(options: PositioningPlanOptions): ReadPlanOptions {
  const { cycles = 5, perMetre = 5, blocks, blocksTogether = 3, feed = mmPerMin(300), seed = 1 } = options;
  const periods = periodsOf(options, "positioningPlan");
  referenceInputs(options.reference);
  needGauge(options.gauge);
  const overTravelMm = needLength(options.overTravel ?? mm(2), "overTravel");
  const landOnMm = needLength(options.landOn ?? mm(0.1), "landOn");
  needCount(cycles, "cycles", 2);
  needCount(blocksTogether, "blocksTogether", 1);
  if (!(perMetre > 0 && perMetre <= 1000)) refuse(`perMetre is ${perMetre}; give targets a metre, such as 5`);
  const [fromMm, toMm] = insideTravel(options.travel, overTravelMm);
  const count = Math.max(5 + 2 * periods.length, Math.ceil((perMetre * (toMm - fromMm)) / 1000));
  if (landOnMm * 4 * count > toMm - fromMm) {
    refuse(`landOn ${landOnMm} mm is too coarse for ${count} targets on ${toMm - fromMm} mm; give a smaller one`);
  }
  const blocksMm = blocks?.map((block) => needLength(block, "a block"));
  const stacks = blocksMm && blockStacks(blocksMm, blocksTogether, toMm - fromMm, periods);
  const drawn = drawnTargets({ fromMm, toMm, count, periods, landOnMm, stacks, seed });
  if (drawn.missingMm.length > 0) refuseBlocks(drawn, count, periods);
  const given = options.timePerReading ?? seconds(blocks === undefined ? 10 : 60);
  const timePerReading = needTime(given, "timePerReading");
  if (!(feed instanceof Quantity && feed.si > 0)) refuse(`feed is ${String(feed)}; give one such as mmPerMin(300)`);
  return {
    drawn,
    periods,
    cycles,
    overTravelMm,
    dwell: needTime(options.dwell ?? seconds(3), "dwell"),
    timePerReading,
    timeOfPath: (pathMm) => seconds(pathMm / 1000 / feed.si),
  };
}

function insideTravel(travel: readonly [Length, Length], overTravelMm: number): readonly [number, number] {
  const [from, to] = travel.map((end, i) => {
    if (end instanceof Quantity && end.kind === "length") return end.in("mm");
    return refuse(`end ${i + 1} of the travel is ${String(end)}; give two lengths such as [mm(0), mm(500)]`);
  }) as [number, number];
  const [low, high] = [from + overTravelMm, to - overTravelMm];
  if (high - low > 10 * overTravelMm) return [low, high];
  return refuse(
    `the travel from ${from} mm to ${to} mm leaves too little between ${overTravelMm} mm beyond each end; give the low end first and a travel of more than ${12 * overTravelMm} mm, or a smaller overTravel`,
  );
}

function refuseBlocks({ missingMm }: DrawnTargets, count: number, periods: readonly NamedPeriod[]): never {
  const whole = periods.map(({ name, periodMm }) => `${printNumber(periodMm, 4)} mm (${name})`).join(" or ");
  const multiple = periods.length > 0 ? ` that is no whole multiple of ${whole}` : "";
  const where = missingMm.length <= 3 ? ` (near ${missingMm.map((at) => `${printNumber(at, 3)} mm`).join(", ")})` : "";
  throw new MeasurementError(
    "blocks",
    `positioningPlan: for ${missingMm.length} of ${count} targets${where} the blocks give no length near enough${multiple}; add blocks, a short odd one such as 1.3 mm or a long one, or allow more together`,
  );
}

function needGauge(gauge: Gauge | undefined): void {
  if (gauge?.resolution) return;
  refuse("the gauge is missing; make one with gauge({ resolution: um(1), maximumPermissibleError: um(3) })");
}

function needLength(given: Length, what: string): number {
  if (given instanceof Quantity && given.kind === "length" && given.si > 0) return given.in("mm");
  return refuse(`${what} is ${sizeText(given)}; give a length above zero, such as mm(2)`);
}

function needTime(given: Time, what: string): Time {
  if (given instanceof Quantity && given.kind === "time" && given.si >= 0) return given;
  return refuse(`${what} is ${String(given)}; give a time such as seconds(3)`);
}

function needCount(given: number, what: string, least: number): void {
  if (Number.isInteger(given) && given >= least && given <= 100) return;
  refuse(`${what} is ${given}; give a whole number from ${least}`);
}

function refuse(sentence: string): never {
  throw new MeasurementError("positioning-plan", `positioningPlan: ${sentence}`);
}
