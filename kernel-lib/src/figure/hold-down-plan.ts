import type { HoldDown } from "../facing/hold-down.js";
import type { UnitSystem } from "../quantity/kinds.js";
import { facingOf } from "../survey/plan-outline.js";
import type { Frame } from "../survey/surface.js";
import type { Figure } from "./figure.js";
import { layOutContent } from "./plan-layout.js";
import { planFigure } from "./plan-map.js";
import { restatedCell, restatedUnit } from "./restated.js";

/** as most tables are written down: FRONT below, +X to the right */
const usual: Frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };

/**
 * The hold-down of a plate as the operator at FRONT sees it: plate, slots, screws, and the order in which they are
 * tightened.
 *
 * @param frame of the table's map; that of the plate, or FRONT at y−, +X right, where left out
 * @example
 * const slots = [50, 110, 170].map((y) => ({ along: "x", at: mm(y), width: mm(12) }));
 * const area = facing.area(mm(60), mm(460), mm(20), mm(200));
 * const screws = facing.screwPattern({ area, slots, spacing: mm(120), fromEnd: mm(30) });
 * const plate = facing.plate({ name: "fixture plate", area, thickness: mm(25), thicknessWithin: mm(0.2), material: facing.plateMaterial("aluminium 6061-T651"), slots, screws, thread: "M10", counterboreDepth: mm(13), deepestCut: mm(0.5) });
 * const nut = { length: mm(25), width: mm(18), threadHeight: mm(14), threadBelowTable: mm(3) };
 * const down = facing.holdDown({ plate, screw: { propertyClass: "8.8", friction: [0.1, 0.16], wrench: 0.06 }, slot: facing.tSlot("M10"), nut, table: { tensileStrength: MPa(150), reserve: 3 }, screwLength: mm(30), jointFriction: 0.1, cutting: { force: newton(300), lift: newton(100) } });
 * figure.holdDownPlan(down).texts.title // => "fixture plate: order of tightening"
 */
export function holdDownPlan(down: HoldDown, frame: Frame = down.plate.frame ?? usual): Figure {
  const { plate, rounds } = down;
  const { area, slots, screws } = plate;
  const spanOf = (from: { in(unit: "mm"): number }, to: { in(unit: "mm"): number }) => ({
    fromMm: from.in("mm"),
    toMm: to.in("mm"),
  });
  const torques = (system: UnitSystem) =>
    `${rounds.map((torque) => restatedCell(torque.in("N.m").toFixed(1), "N·m", system)).join(", ")} ${restatedUnit("N·m", system)}`;
  const places = screws.map(({ label, x, y }) => ({ label, xMm: x.in("mm"), yMm: y.in("mm") }));
  return planFigure((units) =>
    layOutContent(
      {
        title: `${plate.name}: order of tightening`,
        subtitle: `${screws.length} screws ${plate.thread}, three rounds at ${torques(units.system)}; the line goes middle outward`,
        alt: `Plan of ${screws.length} screws over ${slots.length} slots, ${plate.name}; FRONT is the edge ${frame.front.replace("-", "−")}.`,
        facing: facingOf(frame),
        outline: {
          table: { x: spanOf(area.xFrom, area.xTo), y: spanOf(area.yFrom, area.yTo) },
          travel: {},
          slots: slots.map(({ along, at, width }) => ({
            along,
            span: { fromMm: at.in("mm") - width.in("mm") / 2, toMm: at.in("mm") + width.in("mm") / 2 },
          })),
          holes: [],
          obstacles: [],
        },
        places,
        datums: [],
        visits: places,
        namesOnPaper: true,
        lines: ["the rim is the plate, grey bands are the slots under it, dots are the screws"],
      },
      units,
    ),
  );
}
