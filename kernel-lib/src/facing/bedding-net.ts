import type { BandMatrix } from "../numerics/band-cholesky.js";
import type { Surface } from "../survey/surface.js";
import { capScrew } from "./cap-screw.js";
import { mapWeights, type PlaceWeights } from "./map-weights.js";
import type { Plate } from "./plate.js";
import { type Contact, plateHeights } from "./plate-contact.js";
import { nodeAreasMm2, nodePlaceMm, type PlateNet, plateStiffness } from "./plate-stiffness.js";

/** A plate over a map, ready for any table, thickness, modulus and preload. */
export interface BeddingNet {
  readonly net: PlateNet;
  readonly xMm: readonly number[];
  readonly yMm: readonly number[];
  /** how the height under each node follows from the places of the map */
  readonly under: readonly PlaceWeights[];
  readonly bearingMm2: Float64Array;
  readonly areasMm2: Float64Array;
  /** share of each screw's preload that comes on each node */
  readonly screws: readonly Float64Array[];
  /** N/mm² of one mm of thickness */
  readonly weightPerMm: number;
}

/** One case: what is drawn or changed. */
export interface BeddingCase {
  /** height of table and underside together under each node, mm */
  readonly bedMm: Float64Array;
  /** of each screw */
  readonly preloadsN: readonly number[];
  /** as a share of the stated stiffness: (E/E0) (t/t0)³ */
  readonly stiffer?: number;
  readonly start?: Float64Array;
}

/** parts into which the longer side is divided */
const parts = 24;

export function beddingNet(plate: Plate, map: Surface): BeddingNet {
  const [lengthMm, widthMm] = [plate.length.in("mm"), plate.width.in("mm")];
  const step = Math.max(lengthMm, widthMm) / parts;
  const net: PlateNet = {
    columns: Math.max(7, Math.round(lengthMm / step) + 1),
    rows: Math.max(7, Math.round(widthMm / step) + 1),
    lengthMm,
    widthMm,
    thicknessMm: plate.thickness.in("mm"),
    modulusMPa: plate.material.modulus.in("MPa"),
    poisson: plate.material.poisson,
  };
  const areasMm2 = nodeAreasMm2(net);
  const places = Array.from(areasMm2, (_, k) => nodePlaceMm(net, k));
  const xMm = places.map(([x]) => x + plate.area.xFrom.in("mm"));
  const yMm = places.map(([, y]) => y + plate.area.yFrom.in("mm"));
  const weights = mapWeights(map);
  return {
    net,
    xMm,
    yMm,
    under: xMm.map((x, k) => weights(x, yMm[k]!)),
    areasMm2,
    bearingMm2: areasMm2.map((area, k) => area * (1 - slotShare(plate, net, xMm[k]!, yMm[k]!))),
    screws: plate.screws.map(({ x, y }) => spread(plate, net, x.in("mm"), y.in("mm"))),
    weightPerMm: plate.material.density.in("g/cm3") * 9.81e-6,
  };
}

/** Heights of a map's places under each node, mm. */
export function bedOf({ under }: BeddingNet, heightsUm: readonly number[]): Float64Array {
  return Float64Array.from(
    under,
    (weights) => weights.reduce((sum, { index, weight }) => sum + weight * heightsUm[index]!, 0) / 1000,
  );
}

export function stiffnessOf({ net }: BeddingNet): BandMatrix {
  return plateStiffness(net);
}

/** Heights of the plate's underside, mm, at rest under weight and preloads. */
export function heightsOf(
  given: BeddingNet,
  stiffness: BandMatrix,
  { stiffer = 1, ...one }: BeddingCase,
): Float64Array {
  const weight = given.weightPerMm * given.net.thicknessMm;
  // a stiffer plate under the same load bends as the stated one under less
  const loadN = given.areasMm2.map((area, k) => {
    const screws = one.preloadsN.reduce((sum, force, s) => sum + force * given.screws[s]![k]!, 0);
    return (area * weight + screws) / stiffer;
  });
  const contact: Contact = { stiffness, loadN, bedMm: one.bedMm, bearingMm2: given.bearingMm2 };
  return plateHeights(one.start ? { ...contact, start: one.start } : contact);
}

/** part of a node's strip that lies over a slot */
function slotShare(plate: Plate, net: PlateNet, xMm: number, yMm: number): number {
  return plate.slots.reduce((share, { along, at, width }) => {
    const step = along === "x" ? net.widthMm / (net.rows - 1) : net.lengthMm / (net.columns - 1);
    const off = (along === "x" ? yMm : xMm) - at.in("mm");
    const half = width.in("mm") / 2;
    const overlap = Math.min(off + step / 2, half) - Math.max(off - step / 2, -half);
    return Math.min(1, share + Math.max(0, overlap) / step);
  }, 0);
}

/** The preload comes on the underside over a disc that widens by 30° through the plate under the head. */
function spread(plate: Plate, net: PlateNet, xMm: number, yMm: number): Float64Array {
  const radius = capScrew(plate.thread).headDiameter.in("mm") / 2 + plate.web.in("mm") * Math.tan(Math.PI / 6);
  const load = new Float64Array(net.columns * net.rows);
  const rings = [0.2, 0.5, 0.75, 0.93];
  for (const ring of rings) {
    for (let k = 0; k < 12; k++) {
      const angle = (2 * Math.PI * (k + ring)) / 12;
      const x = xMm - plate.area.xFrom.in("mm") + radius * ring * Math.cos(angle);
      const y = yMm - plate.area.yFrom.in("mm") + radius * ring * Math.sin(angle);
      addAt(load, net, x, y, 1 / (12 * rings.length));
    }
  }
  return load;
}

function addAt(load: Float64Array, net: PlateNet, xMm: number, yMm: number, share: number): void {
  const [i, p] = between((xMm / net.lengthMm) * (net.columns - 1), net.columns);
  const [j, q] = between((yMm / net.widthMm) * (net.rows - 1), net.rows);
  const node = i * net.rows + j;
  load[node]! += share * (1 - p) * (1 - q);
  load[node + 1]! += share * (1 - p) * q;
  load[node + net.rows]! += share * p * (1 - q);
  load[node + net.rows + 1]! += share * p * q;
}

function between(at: number, count: number): readonly [cell: number, part: number] {
  const cell = Math.min(count - 2, Math.max(0, Math.floor(at)));
  return [cell, Math.min(1, Math.max(0, at - cell))];
}
