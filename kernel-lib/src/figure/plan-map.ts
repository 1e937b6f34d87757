import type { SurveyPlan } from "../survey/index.js";
import { Figure, type JsonObject } from "./figure.js";
import { frameRoom, hairline, ink, liveFrame, plotlyText, softInk, word } from "./frame.js";
import { type Box, layOutPlan, type PlanLayout, planRoom } from "./plan-layout.js";
import { planeAxis, planeWords } from "./plane-live.js";
import type { PrintUnits } from "./print-units.js";
import { stillPlan } from "./still/plan.js";

/**
 * The plan of a survey as seen by the operator at FRONT: table, slots, holes, travel, places, datums and the order of reading.
 *
 * @example
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(4) });
 * figure.planMap(survey.plan({ table: { x: [mm(0), mm(400)], y: [mm(0), mm(150)] }, pitch: mm(50), frame, gauge: dial })).texts.edges.join() // => "FRONT,BACK,LEFT,RIGHT"
 */
export function planMap(plan: SurveyPlan): Figure {
  return planFigure((units) => layOutPlan(plan, units));
}

/** A plan laid out in the units given, live and still. */
export function planFigure(layOut: (units: PrintUnits) => PlanLayout): Figure {
  return Figure.drawn((units) => {
    const laid = layOut(units);
    return { texts: laid.texts, alt: laid.alt, ...livePlan(laid), still: stillPlan(laid) };
  });
}

function livePlan(plan: PlanLayout): { data: JsonObject[]; layout: JsonObject } {
  const path: JsonObject = {
    type: "scatter",
    mode: "lines",
    x: plan.path.map(([u]) => u),
    y: plan.path.map(([, v]) => v),
    line: { width: 0.7, color: softInk },
    hoverinfo: "skip",
  };
  return {
    data: [path, marks(plan.places, "top center", 10), marks(plan.datums, "bottom right", 11)],
    layout: layoutOf(plan),
  };
}

function marks(list: PlanLayout["places"], textposition: string, size: number): JsonObject {
  const isDatum = size > 10;
  return {
    type: "scatter",
    mode: "markers+text",
    x: list.map(({ at: [u] }) => u),
    y: list.map(({ at: [, v] }) => v),
    text: list.map(({ mark }) => plotlyText(mark)),
    textposition,
    textfont: { size, color: ink },
    marker: isDatum ? { symbol: "square-open", size: 10, color: ink } : { size: 4, color: ink },
    customdata: list.map(({ hover }) => plotlyText(hover)),
    hovertemplate: "%{customdata}<extra></extra>",
    cliponaxis: false,
  };
}

function layoutOf(plan: PlanLayout): JsonObject {
  const room = frameRoom(plan.texts);
  const frame = liveFrame(plan.texts, plan.height, planRoom.bottom, planRoom.left);
  const edges = [
    ...planeWords(),
    ...plan.obstacles.map(({ name, u, v }) =>
      word(plotlyText(name), (u[0] + u[1]) / 2, (v[0] + v[1]) / 2, { xref: "x", yref: "y" }),
    ),
  ];
  const margin = {
    l: planRoom.left,
    r: planRoom.right,
    t: room.above + planRoom.top,
    b: planRoom.bottom + room.below,
    autoexpand: false,
  };
  return {
    ...frame,
    margin,
    hovermode: "closest",
    xaxis: planeAxis(plan.u, {}),
    yaxis: planeAxis(plan.v, { scaleanchor: "x", scaleratio: 1 }),
    shapes: shapesOf(plan),
    annotations: [...(frame.annotations as JsonObject[]), ...edges],
  };
}

function shapesOf(plan: PlanLayout): JsonObject[] {
  const box = ({ u, v }: Box, more: JsonObject): JsonObject => ({
    type: "rect",
    layer: "below",
    x0: u[0],
    x1: u[1],
    y0: v[0],
    y1: v[1],
    ...more,
  });
  return [
    ...plan.slots.map((slot) => box(slot, { fillcolor: hairline, line: { width: 0 } })),
    ...plan.obstacles.map((found) => box(found, { fillcolor: hairline, line: { width: 1, color: softInk } })),
    box(plan.table, { line: { width: 1.5, color: ink } }),
    ...(plan.travel ? [box(plan.travel, { line: { width: 1, color: softInk, dash: "dash" } })] : []),
    ...plan.holes.map(
      ({ at: [u, v], radius: r }): JsonObject => ({
        type: "circle",
        layer: "below",
        x0: u - r,
        x1: u + r,
        y0: v - r,
        y1: v + r,
        line: { width: 1, color: softInk },
      }),
    ),
  ];
}
