import type { ChanceAbove } from "../form/chance-above.js";
import type { FittedSurface } from "../form/fitted-surface.js";
import { methodWords } from "../form/surface-method.js";
import type { RasterHeight } from "../form/surface-raster.js";
import { printNumber } from "../quantity/print.js";
import { chanceScale, heightScale, uncertaintyScale } from "./colour.js";
import { Figure } from "./figure.js";
import { drawMap, heightLimit } from "./height-map.js";
import type { SheetField } from "./map-field.js";
import { heightTitles, type MapOptions } from "./options.js";
import { type PrintUnits, scaleText } from "./print-units.js";

/** the map options that a fitted surface leaves open */
export type SurfaceMapOptions = Omit<MapOptions, "residuals">;

/** lines of the raster along the longer side */
const fine = 60;

/**
 * Contours of the surface between the places, the readings standing at the places; slots and holes are gaps.
 *
 * The title says what the band of the surface does not hold.
 *
 * @throws MeasurementError as `heightMap`
 * @example
 * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 * i, yMm: 50 * j, zUm: i * j, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const map = { name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 8 } };
 * figure.surfaceMap(form.surface(map)).texts.title // => "plate: the band does not hold a ding smaller than the pitch, 40 × 50 mm"
 */
export function surfaceMap(fitted: FittedSurface, options: SurfaceMapOptions = {}): Figure {
  const { surface, reference } = fitted;
  const values = surface.places.map(
    ({ xMm, yMm, zUm }) => zUm - reference.offset - reference.slopeX * xMm - reference.slopeY * yMm,
  );
  const field = fieldOf(fitted, ({ heightUm }) => heightUm);
  const residuals = { heightsUm: values, reference: "above the least-squares plane" };
  const [, subtitle] = heightTitles(surface, reference.name === "plane" ? { ...options, residuals } : options, [
    `${methodWords(fitted.method)}, readings at the places`,
  ]);
  return Figure.drawn((units) => {
    const limit = heightLimit([...values, ...valuesIn(field)], surface, units, options.limitUm);
    return drawMap({
      surface,
      values,
      titles: [titleOf(fitted, options, units), subtitle],
      quantity: "height",
      scale: heightScale,
      span: [-limit, limit],
      options: noted(fitted, options),
      units,
      field,
    });
  });
}

/**
 * Standard uncertainty of the surface everywhere, in one grey scale from zero up: from readings, drift and what lies between the
 * places. The gauge's own error is the same everywhere and named below the title.
 *
 * @throws MeasurementError as `heightMap`
 * @example
 * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 * i, yMm: 50 * j, zUm: i * j, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const map = { name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 8 } };
 * figure.surfaceUncertainty(form.surface(map)).texts.axes[2] // => "u/µm"
 */
export function surfaceUncertainty(fitted: FittedSurface, options: SurfaceMapOptions = {}): Figure {
  const { surface } = fitted;
  const field = fieldOf(fitted, ({ uUm }) => uUm, false);
  const values = heightsAt(fitted, false).uUm;
  return Figure.drawn((units) => {
    const limit = heightLimit([...values, ...valuesIn(field)], surface, units, options.limitUm);
    const gauge = `the gauge's own error adds ${scaleText(units.height, fitted.gaugeUm, 2)} everywhere`;
    return drawMap({
      surface,
      values,
      titles: [
        titleOf(fitted, options, units),
        `standard uncertainty of the height from readings, drift and gaps; ${gauge}`,
      ],
      quantity: "u",
      scale: uncertaintyScale,
      span: [0, limit],
      // between close rows of places u rises and falls each time: more bands would hide the dots
      bands: 5,
      options: noted(fitted, options),
      units,
      field,
      decimals: limit < 1 ? 2 : 1,
    });
  });
}

/**
 * Chance that the surface stands above a limit, place by place.
 *
 * @throws MeasurementError as `heightMap`
 * @example
 * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 * i, yMm: 50 * j, zUm: i * j, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const map = { name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 8 } };
 * figure.surfaceChance(form.surface(map).chanceAbove(um(2))).texts.axes[2] // => "chance/%"
 */
export function surfaceChance(chance: ChanceAbove, options: SurfaceMapOptions = {}): Figure {
  const fitted = chance.surface;
  const { meanUm, uUm } = heightsAt(fitted);
  const percent = (heightUm: number, u: number) => 100 * chance.of({ heightUm, uUm: u });
  const values = meanUm.map((height, i) => percent(height, uUm[i]!));
  const field = fieldOf(fitted, (cell) => percent(cell.heightUm, cell.uUm));
  const above = fitted.reference.name === "plane" ? " above the least-squares plane" : "";
  return Figure.drawn((units) => {
    const limit = scaleText(units.height, chance.limit.in("um"), 1);
    return drawMap({
      surface: fitted.surface,
      values,
      titles: [titleOf(fitted, options, units), `chance that the surface stands more than ${limit} high${above}`],
      quantity: "chance",
      scale: chanceScale,
      span: [0, 100],
      options: noted(fitted, options),
      units: { ...units, height: { symbol: "%", moreDecimals: 0, of: (share) => share } },
      field,
      decimals: 0,
    });
  });
}

function heightsAt(fitted: FittedSurface, gauge = true) {
  const { places } = fitted.surface;
  return fitted.heights(
    places.map(({ xMm }) => xMm),
    places.map(({ yMm }) => yMm),
    gauge,
  );
}

function titleOf({ surface, pitch }: FittedSurface, { title }: SurfaceMapOptions, { place }: PrintUnits): string {
  const [x, y] = [pitch.x, pitch.y].map((p) => printNumber(place.of(p), 3));
  return `${title ?? surface.name}: the band does not hold a ding smaller than the pitch, ${x} × ${y} ${place.symbol}`;
}

function noted({ domain, surface }: FittedSurface, options: SurfaceMapOptions): MapOptions {
  const kinds = [...new Set(domain.gaps.map((gap) => (gap.kind === "obstacle" ? `the ${gap.name}` : `${gap.kind}s`)))];
  const inside = `stated inside the outermost of the ${surface.places.length} places, nothing is carried on beyond them`;
  const white = kinds.length > 0 ? `; white: ${kinds.join(", ")}, where no surface is stated` : "";
  return { ...options, notes: [...(options.notes ?? []), `${inside}${white}`] };
}

function fieldOf(fitted: FittedSurface, value: (cell: RasterHeight) => number, gauge = true): SheetField {
  const raster = fitted.pictureRaster(fine, gauge);
  return {
    xsMm: raster.xsMm,
    ysMm: raster.ysMm,
    valueAt: (i, j) => {
      const cell = raster.at(i, j);
      return cell && value(cell);
    },
    hull: fitted.domain.hull,
    gaps: fitted.domain.gaps,
  };
}

function valuesIn({ xsMm, ysMm, valueAt }: SheetField): readonly number[] {
  return ysMm.flatMap((_, j) => xsMm.map((__, i) => valueAt(i, j)).filter((value) => value !== undefined));
}
