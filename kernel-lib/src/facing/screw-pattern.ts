import { MeasurementError } from "../measurement-error.js";
import { type Length, mm } from "../quantity/index.js";
import type { Slot } from "../survey/index.js";
import { counted } from "../words.js";
import { capScrew } from "./cap-screw.js";
import type { Area } from "./reach.js";

/** A screw of a plate, in the coordinates of the table. */
export interface PlateScrew {
  /** "S1", numbered as they are tightened: middle outward */
  readonly label: string;
  readonly x: Length;
  readonly y: Length;
}

export interface ScrewPatternInput {
  /** of the plate on the table */
  readonly area: Area;
  readonly slots: readonly Slot[];
  /** greatest distance from screw to screw along a slot */
  readonly spacing: Length;
  /** from the ends of the plate to the first and the last screw */
  readonly fromEnd: Length;
}

/**
 * Screws over the T-slots under a plate: along each slot from end to end, evenly, no farther apart than asked for;
 * numbered from the middle of the plate outward, as they are tightened.
 *
 * @throws MeasurementError `no-slots`, `pattern`
 * @example
 * const slots = [50, 110, 170].map((y) => ({ along: "x", at: mm(y), width: mm(12) }));
 * facing.screwPattern({ area: facing.area(mm(60), mm(460), mm(20), mm(200)), slots, spacing: mm(120), fromEnd: mm(30) }).length // => 12
 */
export function screwPattern({ area, slots, spacing, fromEnd }: ScrewPatternInput): readonly PlateScrew[] {
  const under = slots.filter((slot) => crosses(area, slot, fromEnd));
  if (under.length === 0) {
    throw new MeasurementError(
      "no-slots",
      `facing.screwPattern: none of ${counted(slots.length, "slot")} runs under the plate ${fromEnd.text("mm")} or more from its sides; move the plate or give the slots as they lie`,
    );
  }
  const places = under.flatMap((slot) => {
    const [from, to] = slot.along === "x" ? [area.xFrom, area.xTo] : [area.yFrom, area.yTo];
    const length = to.in("mm") - from.in("mm") - 2 * fromEnd.in("mm");
    if (!(length > 0 && spacing.si > 0)) {
      throw new MeasurementError(
        "pattern",
        `facing.screwPattern: between screws ${fromEnd.text("mm")} from both ends ${mm(Number(length.toFixed(3))).text("mm")} are left for a spacing of ${spacing.text("mm")}; give a shorter distance from the ends and a spacing above zero`,
      );
    }
    const gaps = Math.ceil(length / spacing.in("mm") - 1e-9);
    return Array.from({ length: gaps + 1 }, (_, i) => {
      const along = mm(from.in("mm") + fromEnd.in("mm") + (i * length) / gaps);
      return slot.along === "x" ? { x: along, y: slot.at } : { x: slot.at, y: along };
    });
  });
  return middleOutward(area, places);
}

/** Numbered from the middle of the plate outward. */
export function middleOutward(
  { xFrom, xTo, yFrom, yTo }: Area,
  places: readonly { readonly x: Length; readonly y: Length }[],
): readonly PlateScrew[] {
  const [mx, my] = [(xFrom.in("mm") + xTo.in("mm")) / 2, (yFrom.in("mm") + yTo.in("mm")) / 2];
  const far = ({ x, y }: { x: Length; y: Length }) => Math.hypot(x.in("mm") - mx, y.in("mm") - my);
  // of screws equally far out, opposite ones follow each other
  const turn = ({ x, y }: { x: Length; y: Length }) => Math.abs(Math.atan2(y.in("mm") - my, x.in("mm") - mx));
  return places
    .toSorted((a, b) => Math.round(far(a)) - Math.round(far(b)) || turn(a) - turn(b))
    .map(({ x, y }, i) => ({ label: `S${i + 1}`, x, y }));
}

/**
 * Refuses screws that miss their slot by more than the play of the hole, stand too near to the edge or to each other.
 *
 * @throws MeasurementError `off-slot`, `screw-edge`, `screws-meet`
 */
export function needOnSlots(area: Area, slots: readonly Slot[], screws: readonly PlateScrew[], thread: string): void {
  const { clearanceHole, counterboreDiameter } = capScrew(thread);
  const play = (clearanceHole.in("mm") - Number(thread.slice(1))) / 2;
  const off = screws.filter((screw) => !slots.some((slot) => Math.abs(acrossMm(slot, screw)) <= play + 1e-9));
  if (off.length > 0) {
    refuse(
      "off-slot",
      `${listed(off)} lie more than the play of the hole, ${play.toFixed(1)} mm, off the middle of a slot; move the screws or the plate`,
    );
  }
  const bore = counterboreDiameter.in("mm");
  const clear = bore / 2 + 3;
  const near = screws.filter((screw) => !(edgeMm(area, screw) >= clear - 1e-9));
  if (near.length > 0) {
    refuse(
      "screw-edge",
      `${listed(near)} come nearer to the edge of the plate than ${clear} mm, half the counterbore and 3 mm; move them in`,
    );
  }
  const meeting = screws.filter((a, i) => screws.some((b, j) => j < i && distanceMm(a, b) < bore + 3));
  if (meeting.length > 0) {
    refuse("screws-meet", `${listed(meeting)} leave less than 3 mm to the counterbore of another; space them wider`);
  }
}

function crosses(area: Area, { along, at }: Slot, fromEnd: Length): boolean {
  const [from, to] = along === "x" ? [area.yFrom, area.yTo] : [area.xFrom, area.xTo];
  const least = Math.min(fromEnd.si, 0.02) - 1e-12;
  return at.si - from.si >= least && to.si - at.si >= least;
}

function acrossMm({ along, at }: Slot, { x, y }: PlateScrew): number {
  return (along === "x" ? y : x).in("mm") - at.in("mm");
}

function edgeMm({ xFrom, xTo, yFrom, yTo }: Area, { x, y }: PlateScrew): number {
  return Math.min(x.si - xFrom.si, xTo.si - x.si, y.si - yFrom.si, yTo.si - y.si) * 1000;
}

function distanceMm(a: PlateScrew, b: PlateScrew): number {
  return Math.hypot(a.x.in("mm") - b.x.in("mm"), a.y.in("mm") - b.y.in("mm"));
}

function listed(screws: readonly PlateScrew[]): string {
  const names = screws.slice(0, 5).map(({ label, x, y }) => `${label} (x ${x.text("mm")}, y ${y.text("mm")})`);
  return names.join(", ") + (screws.length > 5 ? ` and ${screws.length - 5} more` : "");
}

function refuse(code: string, sentence: string): never {
  throw new MeasurementError(code, `facing.plate: ${sentence}`);
}
