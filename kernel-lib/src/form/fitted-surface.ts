import { MeasurementError } from "../measurement-error.js";
import { display, type Length, type MimeBundle, um } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import type { NextPlaces } from "../survey/index.js";
import type { Surface } from "../survey/surface.js";
import { type Input, Measured } from "../uncertainty/index.js";
import { ChanceAbove } from "./chance-above.js";
import { gaugeInput } from "./flatness-terms.js";
import type { Pitch } from "./neighbours.js";
import { relativeWords } from "./place-words.js";
import { withOpenFindings } from "./places.js";
import type { Domain } from "./surface-domain.js";
import { LeaveOneOut } from "./surface-left-out.js";
import type { FittedMethod, Heights, SurfaceMethod } from "./surface-method.js";
import { nextOn } from "./surface-next.js";
import { SurfaceRaster } from "./surface-raster.js";
import { betweenInput, type PlaceHeight, placeHeights, type Spot } from "./surface-spot.js";
import { volumeOver } from "./surface-volume.js";

/** What heights are counted from: the least-squares plane of the readings, taken as it is, or the zero of the sheet. */
export interface HeightReference {
  readonly name: "plane" | "zero";
  /** µm per mm, µm */
  readonly slopeX: number;
  readonly slopeY: number;
  readonly offset: number;
}

/**
 * The surface between the places of a map: a height with its standard uncertainty wherever it is stated, that is inside the
 * outermost places and not in a slot or hole.
 *
 * The doubt holds the noise of the readings, the drift, what a form that varies slowly over a pitch does between the places, and the
 * gauge. What is smaller than the pitch was never touched and is not in it.
 */
export class FittedSurface {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by `surface` */
  constructor(
    readonly surface: Surface,
    readonly domain: Domain,
    readonly reference: HeightReference,
    /** typical distances of neighbouring places, mm */
    readonly pitch: Pitch,
    private readonly fitted: FittedMethod,
  ) {
    Object.freeze(this);
  }

  get method(): SurfaceMethod {
    return this.fitted.name;
  }

  /** what was fitted, in words */
  get statement(): string {
    return this.fitted.statement;
  }

  /** "the band does not hold what is smaller than the pitch of 70 × 50 mm": stands in the title of every figure */
  get notCovered(): string {
    const { x, y } = this.pitch;
    return `the band does not hold a ding smaller than the pitch, ${printNumber(x, 3)} × ${printNumber(y, 3)} mm`;
  }

  /** standard uncertainty from the gauge's own error, µm */
  get gaugeUm(): number {
    return this.surface.gauge.maximumPermissibleError.in("um") / Math.sqrt(3);
  }

  /**
   * Height at a place, with its uncertainty. Heights of two places are alike in part, which two results of `at` do not know:
   * ask for their `difference`.
   * @throws MeasurementError `no-surface` outside the places, in a slot or a hole
   */
  at(spot: Spot): Measured<"length"> {
    const [place] = this.placesAt([spot]);
    return Measured.of(um(place!.meanUm), [
      { input: this.betweenInput("readings, drift and form between the places", place!.uUm), sensitivity: 1 },
      { input: gaugeInput(this.surface, "gauge, error of the height"), sensitivity: 1 },
    ]);
  }

  /**
   * How much higher one place stands than another. What readings, drift and form do to both alike cancels, more the nearer they lie;
   * the gauge's error does not, as long as the two readings differ. Methods that go straight do not know what cancels: as if all went
   * against each other, an upper bound.
   * @throws MeasurementError `no-surface` as `at`, `same-place`
   * @example
   * const frame = { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" };
   * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 100 * i, yMm: 80 * j, zUm: i * j, count: 2 })));
   * const map = { name: "map", frame, gauge: gauge({ resolution: um(0.1), maximumPermissibleError: um(0.5) }), places, noise: { standardUncertaintyUm: 0.1, degreesOfFreedom: 12 } };
   * const found = form.surface(map, { method: "bilinear", reference: "zero" });
   * found.difference({ x: mm(300), y: mm(160) }, { x: mm(0), y: mm(0) }).in("um").toFixed(1) // => "6.0"
   */
  difference(from: Spot, less: Spot): Measured<"length"> {
    const [a, b] = this.placesAt([from, less]) as [PlaceHeight, PlaceHeight];
    if (a.xMm === b.xMm && a.yMm === b.yMm) {
      throw new MeasurementError(
        "same-place",
        `difference on the surface of ${this.surface.name}: both places are x ${printNumber(a.xMm)} mm, y ${printNumber(a.yMm)} mm; give two that lie apart`,
      );
    }
    const found = this.fitted.covariances?.([a.xMm, b.xMm], [a.yMm, b.yMm]);
    const uUm =
      found === undefined ? a.uUm + b.uUm : Math.sqrt(Math.max(found[0]! + found[3]! - found[1]! - found[2]!, 0));
    return Measured.of(um(a.meanUm - b.meanUm), [
      { input: this.betweenInput("readings, drift and form between the places, of both", uUm), sensitivity: 1 },
      { input: gaugeInput(this.surface, "gauge, error between the two heights"), sensitivity: 1 },
    ]);
  }

  /** @throws MeasurementError `no-surface` */
  private placesAt(spots: readonly Spot[]): readonly PlaceHeight[] {
    return placeHeights(this.surface.name, this.domain, spots, (x, y) => this.heights(x, y, false));
  }

  private betweenInput(label: string, uUm: number): Input<"length"> {
    return betweenInput(this.surface, this.statement, label, uUm);
  }

  /** Heights over an even raster, `count` along the longer side; nothing where the surface is not stated. */
  raster(count = 60): SurfaceRaster {
    return SurfaceRaster.over(this.domain, count, (x, y) => this.heights(x, y, true));
  }

  /** @internal for a picture: edges included, and what lies under slots and holes, which the picture covers */
  pictureRaster(count: number, gauge: boolean): SurfaceRaster {
    const whole = { ...this.domain, outside: this.domain.beyond };
    return SurfaceRaster.over(whole, count, (x, y) => this.heights(x, y, gauge), true);
  }

  /** Chance, place by place, that the surface stands above a limit. @throws MeasurementError `limit` */
  chanceAbove(limit: Length): ChanceAbove {
    return new ChanceAbove(this, limit);
  }

  /** Volume of what stands above a level: what is to be expected with the doubt of the heights, and its uncertainty. */
  volumeAbove(level: Length): Measured<"volume"> {
    return volumeOver(this.surface, this.raster(40), level, (x, y) => this.fitted.covariances?.(x, y));
  }

  /** Every reading against what all others say in its stead. */
  leaveOneOut(): LeaveOneOut {
    return new LeaveOneOut(this.surface, this.method, this.fitted.leftOut());
  }

  /**
   * Places where the next readings would lower the doubt of the whole surface most, each chosen as if those before it were read.
   * @throws MeasurementError `method` for methods that go straight, `count`
   */
  nextPlaces(count = 6): NextPlaces {
    return nextOn(this.surface, this.method, this.raster(26), count, (x, y) => this.fitted.covariances?.(x, y));
  }

  /** @internal heights above the reference, µm; with `gauge` its error in the doubt */
  heights(xMm: readonly number[], yMm: readonly number[], gauge: boolean): Heights {
    const { slopeX, slopeY, offset } = this.reference;
    const { meanUm, uUm } = this.fitted.heights(xMm, yMm);
    return {
      meanUm: meanUm.map((h, i) => h - offset - slopeX * xMm[i]! - slopeY * yMm[i]!),
      uUm: gauge ? uUm.map((u) => Math.hypot(u, this.gaugeUm)) : uUm,
    };
  }

  toString(): string {
    const { surface } = this;
    const raster = this.raster(30);
    const [low, high] = raster.uRange;
    const print = (u: number) => `${printNumber(u, 2)} µm`;
    const sentence = `surface between the ${surface.places.length} places of ${surface.name}, ${relativeWords(surface.frame.relativeTo)}: ${this.statement}; standard uncertainty ${print(low) === print(high) ? print(low) : `${print(low)} to ${print(high)}`}, the gauge's ${print(this.gaugeUm)} in it; ${this.notCovered}`;
    return withOpenFindings(sentence, surface);
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}
