import { MeasurementError } from "../measurement-error.js";
import { normalCdf } from "../numerics/index.js";
import { display, type Length, type MimeBundle, mm, Quantity } from "../quantity/index.js";
import { printNumber } from "../quantity/print.js";
import type { FittedSurface } from "./fitted-surface.js";
import { placeWords } from "./place-words.js";
import type { RasterHeight, SurfaceRaster } from "./surface-raster.js";
import type { Spot } from "./surface-spot.js";

/** Chance, place by place, that a surface stands above a limit. */
export class ChanceAbove {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  private readonly raster: SurfaceRaster;

  /** @internal made by `FittedSurface.chanceAbove` @throws MeasurementError `limit` */
  constructor(
    readonly surface: FittedSurface,
    readonly limit: Length,
  ) {
    if (!(limit instanceof Quantity && limit.kind === "length")) {
      throw new MeasurementError("limit", `chanceAbove: the limit is ${String(limit)}; give a length, such as um(10)`);
    }
    this.raster = surface.raster(60);
    Object.freeze(this);
  }

  /** Chance at one place. @throws MeasurementError `no-surface` */
  at(spot: Spot): number {
    const { value, standardUncertainty } = this.surface.at(spot);
    return normalCdf((value.si - this.limit.si) / standardUncertainty.si);
  }

  /** @internal chance where a height and its standard uncertainty are known */
  of({ heightUm, uUm }: Pick<RasterHeight, "heightUm" | "uUm">): number {
    return normalCdf((heightUm - this.limit.in("um")) / uUm);
  }

  /** Area that is to be expected above the limit: the chances summed over the surface. */
  get expectedArea(): Quantity<"area"> {
    return Quantity.fromSi(
      "area",
      this.raster.toArray().reduce((s, c) => s + this.of(c), 0) * this.raster.cellMm2 * 1e-6,
    );
  }

  /** Where the chance is greatest. */
  get greatest(): { readonly x: Length; readonly y: Length; readonly chance: number; readonly where: string } {
    const { surface } = this.surface;
    const top = this.raster.toArray().reduce((most, cell) => (this.of(cell) > this.of(most) ? cell : most));
    return {
      x: mm(top.xMm),
      y: mm(top.yMm),
      chance: this.of(top),
      where: placeWords(surface.frame, surface.places, top),
    };
  }

  toString(): string {
    const { x, y, chance, where } = this.greatest;
    const percent = chance > 0.995 ? "over 99 %" : chance < 0.005 ? "below 1 %" : `${(100 * chance).toFixed(0)} %`;
    const above = this.surface.reference.name === "plane" ? " above the least-squares plane" : "";
    return `chance that ${this.surface.surface.name} stands more than ${this.limit.text("um")} high${above}: ${percent} at x ${x.in("mm").toFixed(0)} mm, y ${y.in("mm").toFixed(0)} mm (${where}), where it is greatest; ${areaWords(this.expectedArea)} to be expected; ${this.surface.notCovered}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/** "12 cm²", two digits */
function areaWords(area: Quantity<"area">): string {
  const cm2 = area.in("mm2") / 100;
  return cm2 < 0.01 ? "less than 0.01 cm²" : `${printNumber(cm2, 2)} cm²`;
}
