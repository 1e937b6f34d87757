import { display, type Length, type MimeBundle, mm, type Time } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import { counted } from "../words.js";
import type { Gauge } from "./gauge.js";
import { refusePlan } from "./plan-detection.js";
import { type ExpectedUncertainty, expectedUncertainty } from "./plan-expected.js";
import {
  expectedTerms,
  needCounts,
  needMargin,
  type PlanOptions,
  type SmallestDefect,
  timeOf,
} from "./plan-options.js";
import { chooseDatums, type PlannedReading, planOrder } from "./plan-order.js";
import { type Facing, facingOf, type Outline, readOutline } from "./plan-outline.js";
import { type Detection, detectionOf, gapsOf, pitchesOf } from "./plan-pitch.js";
import { type PlannedGrid, type PlannedPlace, planGrid } from "./plan-places.js";
import { planSheet } from "./plan-sheet.js";
import type { Frame } from "./surface.js";

/** One line of "number of points against time". */
export interface PlanChoice {
  readonly pitch: Length;
  readonly places: number;
  readonly readings: number;
  readonly time: Time;
  /** missing where no smallest defect is given */
  readonly missChance?: number;
  readonly limit: Length;
}

const readingsAtDatum = 3;

/** A survey planned: where, in which order, how long, what it can miss, how uncertain it will be. */
export class SurveyPlan {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly title: string;
  readonly outline: Outline;
  readonly facing: Facing;
  readonly grid: PlannedGrid;
  /** the places of the map, row by row from FRONT */
  readonly places: readonly PlannedPlace[];
  readonly datums: readonly PlannedPlace[];
  /** every reading in its order, returns to the datums included */
  readonly readings: readonly PlannedReading[];
  readonly passes: number;
  /** widest spacing of neighbouring rows and columns */
  readonly widest: { readonly x: Length; readonly y: Length };
  readonly time: Time;
  readonly expected: ExpectedUncertainty;
  /** diameter over which the smallest defect exceeds the limit, and the chance that no place lies there */
  readonly detection: Detection | undefined;
  readonly notes: readonly string[];

  /** @internal made by `plan` */
  constructor(private readonly options: PlanOptions) {
    const { frame, passes = 2, datumPlaces = 2, returnEvery = 20, edge = mm(10), clearance = mm(5) } = options;
    this.title = options.title ?? "survey";
    this.outline = readOutline(options);
    this.facing = facingOf(frame);
    this.passes = passes;
    needCounts(options);
    const { pitchX, pitchY } = pitchesOf(options, (p) => this.gridAt(p, p, edge, clearance).rows.flat().length);
    this.grid = this.gridAt(pitchX, pitchY, edge, clearance);
    this.places = this.grid.rows.flat();
    if (this.places.length < 4)
      refusePlan(
        `${counted(this.places.length, "place is left", "places are left")}; at least 4 are needed, choose a smaller pitch or fewer obstacles`,
      );
    this.datums = chooseDatums(this.grid, datumPlaces);
    this.readings = planOrder(this.grid, this.datums, { passes, datumPlaces, returnEvery, readingsAtDatum });
    this.widest = { x: mm(Math.max(...gapsOf(this.grid.x))), y: mm(Math.max(...gapsOf(this.grid.y))) };
    this.time = timeOf(this.readings.length, options);
    this.expected = expectedUncertainty(
      this.places.map(({ xMm }) => xMm),
      this.places.map(({ yMm }) => yMm),
      expectedTerms(options),
    );
    this.detection = detectionOf(this.grid, options, this.expected.limit);
    this.notes = notesOf(this);
    Object.freeze(this);
  }

  get frame(): Frame {
    return this.options.frame;
  }
  get gauge(): Gauge {
    return this.options.gauge;
  }
  get zUnit(): "um" | "thou" | "tenth" {
    return this.options.zUnit ?? "um";
  }
  get smallestDefect(): SmallestDefect | undefined {
    return this.options.smallestDefect;
  }

  /** The same survey at other pitches: number of places against time and what is missed. */
  choices(factors: readonly number[] = [2, 1.4, 1, 0.7, 0.5]): readonly PlanChoice[] {
    return factors.map((factor) => {
      const pitch = { x: this.widest.x.times(factor), y: this.widest.y.times(factor) };
      const { places, readings, time, detection, expected } =
        factor === 1 ? this : new SurveyPlan({ ...this.options, pitch });
      return {
        pitch: mm(Math.max(pitch.x.in("mm"), pitch.y.in("mm"))),
        places: places.length,
        readings: readings.length,
        time,
        ...(detection ? { missChance: detection.missChance } : {}),
        limit: expected.limit,
      };
    });
  }

  /** The open sheet to fill in, reading by reading in the order planned; filled in, `readSurvey` reads it. */
  toCsv(): string {
    return planSheet(this);
  }

  toString(): string {
    const { x, y } = this.widest;
    const missed = this.detection
      ? `; a defect of ${this.smallestDefect!.diameter.text("mm")} is missed ${percent(this.detection.missChance)}`
      : "";
    return `${this.title}: ${this.places.length} places at ${printNumber(x.in("mm"))} × ${printNumber(y.in("mm"))} mm at most, ${this.readings.length} readings in ${this.passes === 1 ? "1 pass" : `${this.passes} passes`}, about ${durationText(this.time)}${missed}; U of the flatness about ${printNumber(this.expected.flatness.in("um"), 2)} µm, drift not in it`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  private gridAt(pitchX: number, pitchY: number, edge: Length, clearance: Length): PlannedGrid {
    const terms = { pitchX, pitchY, edge: needMargin(edge, "edge"), clearance: needMargin(clearance, "clearance") };
    return planGrid(this.outline, this.facing, terms);
  }
}

/**
 * A survey planned before it is taken: places off slots, holes and edges, in serpentine order with returns to datum
 * places, its time, what it can miss, how uncertain it will be. `toCsv()` gives the sheet to fill in.
 *
 * @throws MeasurementError `plan`
 * @example
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(4), repeatability: { standardDeviation: um(1), degreesOfFreedom: 9 } });
 * const slots = [{ along: "x", at: mm(75), width: mm(14) }];
 * survey.plan({ table: { x: [mm(0), mm(400)], y: [mm(0), mm(150)] }, slots, pitch: mm(50), frame, gauge: dial }).places.length // => 36
 */
export function plan(options: PlanOptions): SurveyPlan {
  return new SurveyPlan(options);
}

/** "1 h 20 min" */
export function durationText(time: Time): string {
  const whole = Math.max(1, Math.round(time.in("min")));
  return whole < 60 ? `${whole} min` : `${Math.floor(whole / 60)} h ${whole % 60} min`;
}

/** "in 5 of 100 cases" */
function percent(chance: number): string {
  return chance < 0.001 ? "in fewer than 1 of 1000 cases" : `in ${printNumber(100 * chance, 2)} of 100 cases`;
}

function notesOf({ grid, outline, detection, smallestDefect, passes, expected }: SurveyPlan): readonly string[] {
  const left = grid.leftOut.map(({ label, reason }) => `${label} (${reason})`);
  return [
    ...grid.moved,
    ...(left.length > 0 ? [`left out: ${left.join(", ")}; nothing will be known there`] : []),
    ...(detection && smallestDefect?.height
      ? [
          `the defect exceeds the limit of ${printNumber(expected.limit.in("um"), 2)} µm over ${printNumber(detection.diameter.in("mm"), 3)} mm only; touching it at the rim is not seeing it`,
        ]
      : []),
    ...(detection
      ? [
          "the chance of a miss is that of a defect at random between the outermost places, and holds for one or many passes alike",
        ]
      : []),
    ...(outline.obstacles.length > 0
      ? [
          `lift the stylus before it meets ${outline.obstacles.map(({ name }) => name).join(", ")}; the rows run on behind`,
        ]
      : []),
    "between the places nothing is seen: stone the table, blue it under a straightedge, slide over it and note the largest swing",
    ...(passes < 2 ? ["one pass cannot tell swarf from the table; take two"] : []),
  ];
}
