import type { Bedding, BeddingPlace } from "../facing/index.js";
import type { Surface } from "../survey/surface.js";
import { uncertaintyScale } from "./colour.js";
import { Figure } from "./figure.js";
import { drawMap, heightLimit, heightMap } from "./height-map.js";

/**
 * Gap under a plate, as it lies by its own weight or with all screws tight, in one grey scale from zero up.
 *
 * @param limitUm the scale runs to this many µm; give two figures the same to compare them
 * @throws MeasurementError `frame`
 * @example
 * const places = [0, 1, 2, 3, 4, 5].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 + 90 * i, yMm: 20 + 90 * j, zUm: 3 * (i - 2.5) ** 2, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const map = { name: "table", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(1) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 18 } };
 * const slots = [50, 110, 170].map((y) => ({ along: "x", at: mm(y), width: mm(12) }));
 * const area = facing.area(mm(60), mm(460), mm(20), mm(200));
 * const screws = facing.screwPattern({ area, slots, spacing: mm(120), fromEnd: mm(30) });
 * const plate = facing.plate({ name: "fixture plate", area, thickness: mm(25), thicknessWithin: mm(0.2), material: facing.plateMaterial("aluminium 6061-T651"), slots, screws, thread: "M10", counterboreDepth: mm(13), deepestCut: mm(0.5) });
 * const nut = { length: mm(25), width: mm(18), threadHeight: mm(14), threadBelowTable: mm(3) };
 * const down = facing.holdDown({ plate, screw: { propertyClass: "8.8", friction: [0.1, 0.16], wrench: 0.06 }, slot: facing.tSlot("M10"), nut, table: { tensileStrength: MPa(150), reserve: 3 }, screwLength: mm(30), jointFriction: 0.1, cutting: { force: newton(300), lift: newton(100) } });
 * figure.gapMap(facing.bedding(map, down, { underside: { flatWithin: um(5) }, draws: 20 }), "loose").texts.title // => "fixture plate: gap under it as it lies"
 */
export function gapMap(bedding: Bedding, state: "loose" | "tight", limitUm?: number): Figure {
  const surface = surfaceOf(bedding, bedding.gaps(state));
  const values = surface.places.map(({ zUm }) => zUm);
  const torque = state === "loose" ? "none, own weight only" : `${bedding.holdDown.torque.in("N.m").toFixed(1)} N·m`;
  const titles = [
    `${bedding.plate.name}: gap under it ${state === "loose" ? "as it lies" : "with all screws tight"}`,
    `torque ${torque}; the plate ${bedding.says === "lies flat" ? "lies flat on" : bedding.says} the table`,
  ] as const;
  return Figure.drawn((units) => {
    const span = [0, heightLimit(values, surface, units, limitUm)] as const;
    const options = { notes: [bedding.notes[0]!] };
    return drawMap({ surface, values, titles, quantity: "gap", scale: uncertaintyScale, span, options, units });
  });
}

/**
 * Top of a plate that was faced flat in place, when it is released: what springs back, above its least-squares plane.
 *
 * @throws MeasurementError `frame`
 * @example
 * const places = [0, 1, 2, 3, 4, 5].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 + 90 * i, yMm: 20 + 90 * j, zUm: 3 * (i - 2.5) ** 2, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const map = { name: "table", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(1) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 18 } };
 * const slots = [50, 110, 170].map((y) => ({ along: "x", at: mm(y), width: mm(12) }));
 * const area = facing.area(mm(60), mm(460), mm(20), mm(200));
 * const screws = facing.screwPattern({ area, slots, spacing: mm(120), fromEnd: mm(30) });
 * const plate = facing.plate({ name: "fixture plate", area, thickness: mm(25), thicknessWithin: mm(0.2), material: facing.plateMaterial("aluminium 6061-T651"), slots, screws, thread: "M10", counterboreDepth: mm(13), deepestCut: mm(0.5) });
 * const nut = { length: mm(25), width: mm(18), threadHeight: mm(14), threadBelowTable: mm(3) };
 * const down = facing.holdDown({ plate, screw: { propertyClass: "8.8", friction: [0.1, 0.16], wrench: 0.06 }, slot: facing.tSlot("M10"), nut, table: { tensileStrength: MPa(150), reserve: 3 }, screwLength: mm(30), jointFriction: 0.1, cutting: { force: newton(300), lift: newton(100) } });
 * figure.springBackMap(facing.bedding(map, down, { underside: { flatWithin: um(5) }, draws: 20 })).texts.title // => "fixture plate: faced flat in place, then released"
 */
export function springBackMap(bedding: Bedding): Figure {
  const surface = surfaceOf(bedding, bedding.released());
  const { middle, low, high } = bedding.springBack;
  const print = (value: typeof middle) => value.in("um").toFixed(0);
  return heightMap(surface, {
    title: `${bedding.plate.name}: faced flat in place, then released`,
    residuals: {
      heightsUm: surface.places.map(({ zUm }) => zUm),
      reference: `above the least-squares plane: ${print(middle)} µm peak to valley (interval of the draws ${print(low)} µm to ${print(high)} µm)`,
    },
    notes: ["likely form; what the cut itself leaves is not in it"],
  });
}

/** a net of places that a reader can take in */
function surfaceOf({ map, plate }: Bedding, all: readonly BeddingPlace[]): Surface {
  const columns = some(
    all.map(({ xMm }) => xMm),
    11,
  );
  const rows = some(
    all.map(({ yMm }) => yMm),
    7,
  );
  const places = all
    .filter(({ xMm, yMm }) => columns.has(xMm) && rows.has(yMm))
    .map(({ xMm, yMm, value }) => ({
      label: `x ${xMm.toFixed(0)}, y ${yMm.toFixed(0)}`,
      xMm,
      yMm,
      zUm: value.in("um"),
      count: 1,
    }));
  return { ...map, name: plate.name, places };
}

/** lines evenly apart where their number allows it, never more than asked for */
function some(values: readonly number[], most: number): ReadonlySet<number> {
  const lines = [...new Set(values)].toSorted((a, b) => a - b);
  const gaps = lines.length - 1;
  const even = Array.from({ length: most - 1 }, (_, k) => most - 1 - k).find((n) => n > 3 && gaps % n === 0);
  const count = Math.min(even ?? most - 1, gaps);
  return new Set(Array.from({ length: count + 1 }, (_, k) => lines[Math.round((k * gaps) / count)]!));
}
