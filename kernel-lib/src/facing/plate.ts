import { MeasurementError } from "../measurement-error.js";
import { display, type Length, type Mass, type MimeBundle, Quantity } from "../quantity/index.js";
import type { Slot } from "../survey/index.js";
import type { Frame, Surface } from "../survey/surface.js";
import { capScrew } from "./cap-screw.js";
import { sameSides, sidesText } from "./job-frame.js";
import type { PlateMaterial } from "./plate-material.js";
import { type Area, areaText } from "./reach.js";
import { middleOutward, needOnSlots, type PlateScrew } from "./screw-pattern.js";

export interface PlateInput {
  readonly name: string;
  /** where the plate lies, in the coordinates of the table's map */
  readonly area: Area;
  /** frame of that map, so that a map of another frame is refused with this plate; taken on trust where left out */
  readonly frame?: Frame;
  readonly thickness: Length;
  /** limits of the thickness: ± as measured or as stated for the stock */
  readonly thicknessWithin: Length;
  readonly material: PlateMaterial;
  readonly slots: readonly Slot[];
  /** the screws over the slots; `facing.screwPattern` makes such a list */
  readonly screws: readonly { readonly x: Length; readonly y: Length }[];
  /** "M10": socket head cap screws */
  readonly thread: string;
  /** least of the counterbores, from the top before the cut */
  readonly counterboreDepth: Length;
  /** deepest cut that is planned */
  readonly deepestCut: Length;
}

/** A fixture plate to be bolted over the slots of a table; made by `facing.plate`. */
export class Plate {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly name: string;
  readonly area: Area;
  readonly frame: Frame | undefined;
  readonly thickness: Length;
  readonly thicknessWithin: Length;
  readonly material: PlateMaterial;
  readonly slots: readonly Slot[];
  /** in the order of tightening: middle outward */
  readonly screws: readonly PlateScrew[];
  readonly thread: string;
  readonly counterboreDepth: Length;
  readonly deepestCut: Length;

  constructor(input: PlateInput, screws: readonly PlateScrew[]) {
    this.name = input.name;
    this.area = input.area;
    this.frame = input.frame;
    this.thickness = input.thickness;
    this.thicknessWithin = input.thicknessWithin;
    this.material = input.material;
    this.slots = [...input.slots];
    this.screws = screws;
    this.thread = input.thread;
    this.counterboreDepth = input.counterboreDepth;
    this.deepestCut = input.deepestCut;
    Object.freeze(this);
  }

  get length(): Length {
    return this.area.xTo.minus(this.area.xFrom);
  }

  get width(): Length {
    return this.area.yTo.minus(this.area.yFrom);
  }

  /** before holes and cut */
  get mass(): Mass {
    const volume = this.length.si * this.width.si * this.thickness.si;
    return Quantity.fromSi("mass", volume * this.material.density.si);
  }

  /** plate left under the heads */
  get web(): Length {
    return this.thickness.minus(this.counterboreDepth);
  }

  /** head below the finished surface at the deepest cut, no doubt taken off */
  get headBelow(): Length {
    return this.counterboreDepth.minus(capScrew(this.thread).headHeight).minus(this.deepestCut);
  }

  /** thickness where the cut is deepest */
  get thicknessLeft(): Length {
    return this.thickness.minus(this.deepestCut);
  }

  toString(): string {
    const { name, length, width, thickness, material, screws, thread, area } = this;
    return `${name}: ${length.text("mm")} × ${width.text("mm")} × ${thickness.text("mm")}, ${material.name}, ${this.mass.in("kg").toFixed(1)} kg, at ${areaText(area)}; ${screws.length} screws ${thread}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * A fixture plate over the T-slots of a table, with its screws in counterbores.
 *
 * Refused where the heads can't stay below the cut, where too little plate is left under them, where a screw misses its
 * slot, comes near to the edge or to another.
 *
 * @throws MeasurementError `not-positive`, `area`, `no-screws`, `plate-too-thin`, `counterbore`, `off-slot`, `screw-edge`, `screws-meet`, `unknown-thread`
 * @example
 * const slots = [50, 110, 170].map((y) => ({ along: "x", at: mm(y), width: mm(12) }));
 * const area = facing.area(mm(60), mm(460), mm(20), mm(200));
 * const screws = facing.screwPattern({ area, slots, spacing: mm(120), fromEnd: mm(30) });
 * const plate = facing.plate({ name: "fixture plate", area, thickness: mm(25), thicknessWithin: mm(0.2), material: facing.plateMaterial("aluminium 6061-T651"), slots, screws, thread: "M10", counterboreDepth: mm(13), deepestCut: mm(0.5) });
 * plate.headBelow.text() // => "2.5 mm"
 */
export function plate(input: PlateInput): Plate {
  const { area, thickness, counterboreDepth, deepestCut, thicknessWithin } = input;
  for (const [name, value] of Object.entries({ thickness, thicknessWithin, counterboreDepth, deepestCut })) {
    if (!(value.si > 0)) refuse("not-positive", `${name} is ${value.text("mm")}; give a length above zero`);
  }
  if (!(area.xTo.si > area.xFrom.si && area.yTo.si > area.yFrom.si)) {
    refuse("area", `the plate lies at ${areaText(area)}, which has no size; give xFrom below xTo and yFrom below yTo`);
  }
  if (input.screws.length === 0) {
    refuse("no-screws", "no screw was given; list their places, facing.screwPattern makes a list over the slots");
  }
  needDepths(input);
  const screws = middleOutward(area, input.screws);
  needOnSlots(area, input.slots, screws, input.thread);
  return new Plate(input, screws);
}

/**
 * A map of the table, or of the plate on it, in the frame in which the plate was laid out.
 *
 * @throws MeasurementError `different-frames`
 */
export function needPlateFrame(where: string, { name, frame }: Plate, map: Surface): void {
  if (!frame || sameSides(frame, map.frame)) return;
  throw new MeasurementError(
    "different-frames",
    `${where}: ${name} was laid out with ${sidesText(frame)} and ${map.name} has ${sidesText(map.frame)}; lay the plate out in the coordinates of the map`,
  );
}

/** at least half a diameter of plate under the head: common practice, no source; bearing and shear are judged by the hold-down */
function needDepths({ thickness, counterboreDepth, deepestCut, thread }: PlateInput): void {
  const { headHeight } = capScrew(thread);
  const web = Number(thread.slice(1)) / 2000;
  const needed = headHeight.si + deepestCut.si + web;
  if (!(thickness.si > needed)) {
    refuse(
      "plate-too-thin",
      `a plate of ${thickness.text("mm")} is too thin: head ${headHeight.text("mm")}, deepest cut ${deepestCut.text("mm")} and half a diameter of plate under the head need more than ${Quantity.fromSi("length", needed).text("mm")}; take a thicker plate, smaller screws or less cut`,
    );
  }
  if (!(counterboreDepth.si > headHeight.si + deepestCut.si)) {
    refuse(
      "counterbore",
      `counterbores ${counterboreDepth.text("mm")} deep allow a cut below ${counterboreDepth.minus(headHeight).text("mm")} over heads of ${headHeight.text("mm")}, and ${deepestCut.text("mm")} is planned; deepen the counterbores or cut less`,
    );
  }
  if (!(thickness.si - counterboreDepth.si >= web - 1e-12)) {
    refuse(
      "plate-too-thin",
      `counterbores ${counterboreDepth.text("mm")} deep leave ${thickness.minus(counterboreDepth).text("mm")} of a plate of ${thickness.text("mm")}; half a diameter is needed under the head, make them shallower or take a thicker plate`,
    );
  }
}

function refuse(code: string, sentence: string): never {
  throw new MeasurementError(code, `facing.plate: ${sentence}`);
}
