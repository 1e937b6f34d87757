import { type Force, type Length, newton, newtonMetre, type Pressure, type Torque } from "../quantity/index.js";
import { bolt } from "./bolt.js";
import { capScrew } from "./cap-screw.js";
import type { Plate } from "./plate.js";
import { bearingAreaMm2, preloadPerTorque, type ScrewSpec } from "./preload.js";
import { nutThreadN, nutThreadSource, type SlotNut } from "./slot-nut.js";
import type { TSlot } from "./t-slot.js";
import { greatestPreload } from "./tightening.js";

/** The iron that the nuts pull against. */
export interface TableIron {
  /** tensile strength of the casting; 150 N/mm² where its grade is not known (lowest common grade, from memory) */
  readonly tensileStrength: Pressure;
  /** strength over what is allowed, 3 or more for old iron (common practice, no source) */
  readonly reserve: number;
}

/** What the screws are held and what they have to hold. */
export interface HoldDownCase {
  readonly plate: Plate;
  readonly screw: ScrewSpec;
  readonly slot: TSlot;
  readonly nut: SlotNut;
  readonly table: TableIron;
  /** least friction between plate and table, such as 0.1 */
  readonly jointFriction: number;
  readonly cutting: CuttingLoad;
}

/** Greatest force of the cut on the plate. */
export interface CuttingLoad {
  /** sideways */
  readonly force: Force;
  /** upwards: what would lift an edge */
  readonly lift: Force;
}

/** One thing that bounds the torque. */
export interface TorqueLimit {
  readonly what: string;
  /** preload of one screw at which it is reached */
  readonly force: Force;
  /** with the scatter on the side that counts: high where something is overloaded, low where it has to hold */
  readonly torque: Torque;
  readonly source: string;
}

/** how many times the cutting force the screws have to hold: common practice, no source */
const holdTimes = 4;

/** What bounds the torque from above: each at the high end of the scatter. `engaged`: thread of the screw in the nut. */
export function upperLimits(given: HoldDownCase & { readonly engaged: Length }): readonly TorqueLimit[] {
  const { plate, screw } = given;
  const { high } = preloadPerTorque(screw);
  const yieldMPa = plate.material.proofStress.in("MPa");
  const headMm = (screw.washerDiameter ?? capScrew(screw.thread).headDiameter).in("mm");
  const row = (what: string, newtons: number, source: string): TorqueLimit => ({
    what,
    force: newton(newtons),
    torque: newtonMetre(newtons / high),
    source,
  });
  const steel = bolt(screw.thread, screw.propertyClass);
  return [
    row(
      "screw, tension and torsion together",
      greatestPreload(steel, screw.friction[0]).in("N"),
      "VDI 2230, 0.9 of the yield",
    ),
    row("thread of the nut, shear", nutThreadN(steel, given), nutThreadSource(given.nut)),
    row("slot lip, shear along the nut", lipShearN(given), "two lips, shear allowed as tension; common practice"),
    row("slot lip, bending", lipBendingN(given), "each lip as a short beam as long as the nut; common practice"),
    row(
      "bearing under the head",
      bearingAreaMm2(screw) * yieldMPa,
      `proof stress of ${plate.material.name}, ${plate.material.source}`,
    ),
    row(
      "shear of the plate under the head",
      Math.PI * headMm * plate.web.in("mm") * 0.577 * yieldMPa,
      "shear yield 0.577 of the proof stress (von Mises)",
    ),
  ];
}

/** What bounds it from below: the low end of the scatter holds four times the cut. */
export function lowerLimits(given: HoldDownCase): readonly TorqueLimit[] {
  const { plate, screw, jointFriction, cutting } = given;
  const { low } = preloadPerTorque(screw);
  const slip = (holdTimes * cutting.force.in("N")) / jointFriction + holdTimes * cutting.lift.in("N");
  const slide = slip / plate.screws.length;
  const tip = Math.max(...tippingN(plate, cutting).map((newtons) => holdTimes * newtons));
  const row = (what: string, newtons: number, source: string): TorqueLimit => ({
    what,
    force: newton(newtons),
    torque: newtonMetre(newtons / low),
    source,
  });
  return [
    row("holds against sliding", slide, `friction ${jointFriction}, ${holdTimes} times the cutting force`),
    row("holds against lifting and prying", tip, `about the worst edge, ${holdTimes} times the cutting force`),
  ];
}

/** preload of each screw that just keeps the plate from tipping, about each of its four edges */
function tippingN(plate: Plate, { force, lift }: CuttingLoad): readonly number[] {
  const { area, screws } = plate;
  const height = plate.thickness.si;
  const edges = [
    { far: plate.length.si, arms: screws.map((s) => s.x.si - area.xFrom.si) },
    { far: plate.length.si, arms: screws.map((s) => area.xTo.si - s.x.si) },
    { far: plate.width.si, arms: screws.map((s) => s.y.si - area.yFrom.si) },
    { far: plate.width.si, arms: screws.map((s) => area.yTo.si - s.y.si) },
  ];
  return edges.map(({ far, arms }) => {
    const moment = force.in("N") * height + lift.in("N") * far;
    return moment / arms.reduce((a, b) => a + b, 0);
  });
}

function lipShearN({ slot, nut, table }: HoldDownCase): number {
  return (2 * nut.length.in("mm") * slot.lip.in("mm") * table.tensileStrength.in("MPa")) / table.reserve;
}

/** the nut bears from the edge of the throat to its own edge; the lip is held where the wide part ends */
function lipBendingN({ slot, nut, table }: HoldDownCase): number {
  const arm = slot.recessWidth.in("mm") / 2 - (slot.throat.in("mm") + nut.width.in("mm")) / 4;
  const section = (nut.length.in("mm") * slot.lip.in("mm") ** 2) / 6;
  return (2 * section * table.tensileStrength.in("MPa")) / table.reserve / arm;
}
