import { MeasurementError } from "../measurement-error.js";
import { display, type Length, type MimeBundle, um } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import type { NextPlaces } from "../survey/index.js";
import type { Surface } from "../survey/surface.js";
import { Input, Measured } from "../uncertainty/index.js";
import { ChanceAbove } from "./chance-above.js";
import { gaugeInput } from "./flatness-terms.js";
import type { Pitch } from "./neighbours.js";
import { relativeWords } from "./place-words.js";
import type { Domain } from "./surface-domain.js";
import { LeaveOneOut } from "./surface-left-out.js";
import type { FittedMethod, Heights, SurfaceMethod } from "./surface-method.js";
import { nextOn } from "./surface-next.js";
import { SurfaceRaster } from "./surface-raster.js";
import { volumeOver } from "./surface-volume.js";

/** A place on the surface. */
export interface Spot {
  readonly x: Length;
  readonly y: Length;
}

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
   * Height at a place, with its uncertainty. The heights of two places are alike in part; that is not kept here.
   * @throws MeasurementError `no-surface` outside the places, in a slot or a hole
   */
  at({ x, y }: Spot): Measured<"length"> {
    const [xMm, yMm] = [x.in("mm"), y.in("mm")];
    const { meanUm, uUm } = this.heights([xMm], [yMm], false);
    const why = this.domain.outside(xMm, yMm) ?? (Number.isFinite(uUm[0]!) ? undefined : "next to a place not probed");
    if (why !== undefined) {
      throw new MeasurementError(
        "no-surface",
        `surface of ${this.surface.name}: x ${printNumber(xMm)} mm, y ${printNumber(yMm)} mm lies ${why}; ask for a place on the surface, between the places probed`,
      );
    }
    const { noise } = this.surface;
    const between = new Input({
      label: "readings, drift and form between the places",
      estimate: um(0),
      standardUncertainty: um(uUm[0]!),
      distribution: "normal",
      degreesOfFreedom: noise.degreesOfFreedom,
      evaluation: "A",
      source: this.statement,
    });
    return Measured.of(um(meanUm[0]!), [
      { input: between, sensitivity: 1 },
      { input: gaugeInput(this.surface, "gauge, error of the height"), sensitivity: 1 },
    ]);
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
    return `surface between the ${surface.places.length} places of ${surface.name}, ${relativeWords(surface.frame.relativeTo)}: ${this.statement}; standard uncertainty ${print(low)} to ${print(high)}, the gauge's ${print(this.gaugeUm)} in it; ${this.notCovered}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}
