import { type Length, minutes, Quantity, seconds, type Time, um } from "../quantity/index.js";
import type { Gauge } from "./gauge.js";
import { refusePlan } from "./plan-detection.js";
import type { ExpectedTerms } from "./plan-expected.js";
import type { OutlineOptions } from "./plan-outline.js";
import type { Frame } from "./surface.js";

/** The smallest defect that must not be missed. */
export interface SmallestDefect {
  readonly diameter: Length;
  /** how far it stands up; with it, only what stands above the limit of the survey counts as seen */
  readonly height?: Length;
  /** chance of a miss that is accepted; 0.05 unless said otherwise */
  readonly chance?: number;
}

export interface PlanOptions extends OutlineOptions {
  /** what the heights will be relative to, where FRONT is, which way X and Y grow */
  readonly frame: Frame;
  readonly gauge: Gauge;
  readonly title?: string;
  /** greatest spacing of the places; taken from the smallest defect where left out */
  readonly pitch?: Length | { readonly x: Length; readonly y: Length };
  readonly smallestDefect?: SmallestDefect;
  /** 2 unless said otherwise: one cannot tell swarf from the table */
  readonly passes?: number;
  /** scatter of one reading; that of the gauge where left out, one step of it where it states none */
  readonly repeatability?: Length;
  /** about how flat the table is, for the estimate of uncertainty; 20 µm unless said otherwise */
  readonly expectedFlatness?: Length;
  /** kept from the edges of the table, 10 mm; and from slots and holes, 5 mm (common practice, no source) */
  readonly edge?: Length;
  readonly clearance?: Length;
  /** places read three times at each return; 2 see an offset and hint at a tilt, 3 see both */
  readonly datumPlaces?: 2 | 3;
  /** readings between two returns; 20 unless said otherwise */
  readonly returnEvery?: number;
  /** moving there included; 12 s unless said otherwise */
  readonly timePerReading?: Time;
  /** cleaning before each pass; 5 min unless said otherwise */
  readonly timePerWipe?: Time;
  /** of the column z on the sheet */
  readonly zUnit?: "um" | "thou" | "tenth";
  readonly seed?: number;
}

export function needCounts({ passes = 2, datumPlaces = 2, returnEvery = 20, gauge }: PlanOptions): void {
  if (!(Number.isInteger(passes) && passes >= 1 && passes <= 20))
    refusePlan(`${passes} passes; give a whole number from 1 to 20, 2 being usual`);
  if (datumPlaces !== 2 && datumPlaces !== 3)
    refusePlan(`${String(datumPlaces)} datum places; give 2 or 3, as one sees no tilt`);
  if (!(Number.isInteger(returnEvery) && returnEvery >= 1))
    refusePlan(`returnEvery is ${returnEvery}; give a whole number of readings, such as 20`);
  if (!gauge?.resolution)
    refusePlan("the gauge is missing; make one with gauge({ resolution: um(1), maximumPermissibleError: um(4) })");
}

export function needMargin(given: Length, what: string): number {
  if (given instanceof Quantity && given.kind === "length" && given.si >= 0) return given.in("mm");
  return refusePlan(`${what} is ${String(given)}; give a length of zero or more, such as mm(10)`);
}

export function expectedTerms({
  gauge,
  repeatability,
  passes = 2,
  expectedFlatness = um(20),
  seed = 1,
}: PlanOptions): ExpectedTerms {
  return { gauge, repeatability, passes, expectedFlatness, seed };
}

export function timeOf(
  count: number,
  { timePerReading = seconds(12), timePerWipe = minutes(5), passes = 2 }: PlanOptions,
): Time {
  for (const time of [timePerReading, timePerWipe]) {
    if (!(time instanceof Quantity && time.kind === "time" && time.si >= 0))
      refusePlan(`${String(time)} is no time; give one such as seconds(12)`);
  }
  return timePerReading.times(count).plus(timePerWipe.times(passes));
}
