import { colourAt, heightScale } from "../colour.js";
import { figureWidth, frameRoom, ink } from "../frame.js";
import { type Projection, projectionInto } from "../projection.js";
import { type SurfacePlan, sceneRoom } from "../surface-plan.js";
import { colourBar } from "./colour-bar.js";
import { box, boxWords } from "./surface-box.js";
import { skin } from "./surface-skin.js";
import { element, label, line, stillFrame } from "./svg.js";

/** The surface as a still picture, painted from far to near. */
export function stillSurface(plan: SurfacePlan): string {
  const room = frameRoom(plan.texts);
  const { left, right, top } = sceneRoom;
  const projection = projectionInto(plan, left, room.above + top, figureWidth - left - right);
  const bar = { x: figureWidth - 66, y: room.above + 0.2 * plan.scene, height: 0.62 * plan.scene };
  const picture = [
    box(plan, projection),
    stems(plan, projection, (value) => value > 0),
    skin(plan, projection),
    stems(plan, projection, (value) => value < 0),
    points(plan, projection),
    boxWords(plan, projection),
    marks(plan, projection),
    colourBar(bar, heightScale, [-plan.limit, plan.limit], plan.barTicks, plan.texts.axes[2]!),
  ];
  return stillFrame(plan.texts, plan.alt, plan.height, picture.join(""));
}

/** From a place to the zero of the heights: those of high places stand behind the skin, those of low ones before it. */
function stems(plan: SurfacePlan, { to }: Projection, which: (value: number) => boolean): string {
  if (plan.isDense) return "";
  return plan.sheet.places
    .filter(({ value }) => which(value))
    .map(({ u, v, value }) => line(...to(u, v, value), ...to(u, v, 0), ink, 0.6))
    .join("");
}

function points(plan: SurfacePlan, { to }: Projection): string {
  if (plan.isDense) return "";
  return plan.sheet.places
    .map(({ u, v, value }) => {
      const [cx, cy] = to(u, v, value);
      return element("circle", { cx, cy, r: 1.6, fill: ink, stroke: colourAt(heightScale, 0.5), "stroke-width": 0.4 });
    })
    .join("");
}

function marks(plan: SurfacePlan, { to }: Projection): string {
  return plan.marks
    .map(({ place, text }, i) => {
      const { u, v, value } = plan.sheet.places[place]!;
      const [x, y] = to(u, v, value);
      const end = i === 0 ? y - 22 : y - 38;
      const paper = { "paint-order": "stroke", stroke: "#ffffff", "stroke-width": 4, "stroke-linejoin": "round" };
      const words = label(text, x, end - 3, { "font-size": 11, "text-anchor": "middle", ...paper });
      return line(x, y, x, end, ink) + words;
    })
    .join("");
}
