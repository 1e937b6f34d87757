import type { SurveyPlan } from "../survey/index.js";
import { Figure, type JsonObject } from "./figure.js";
import { hairline, ink, plotlyText, softInk, word } from "./frame.js";
import { layOutPlan, type PlanLayout, planRoom } from "./plan-layout.js";
import { planeBox, planeCircle, planeLayout } from "./plane-live.js";
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
    data: [
      path,
      marks(
        plan.namesOnPaper ? plan.places.map((place) => ({ ...place, mark: "" })) : plan.places,
        plan.places.map(({ out }) => sideOf(out)),
        10,
      ),
      marks(
        plan.datums,
        plan.datums.map(({ out }) => sideOf(out)),
        11,
      ),
    ],
    layout: planLayout(plan),
  };
}

const sides = [
  ...["middle right", "top right", "top center", "top left"],
  ...["middle left", "bottom left", "bottom center", "bottom right"],
];

/** on which side of its place a figure stands: outwards, above where nothing is said */
function sideOf(out: readonly [u: number, v: number] | undefined): string {
  if (out === undefined) return "top center";
  return sides[(Math.round((Math.atan2(out[1], out[0]) * 4) / Math.PI) + 8) % 8]!;
}

function marks(list: PlanLayout["places"], textposition: string | readonly string[], size: number): JsonObject {
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

/** axes, edges and words of a plan as plotly takes them */
export function planLayout(plan: PlanLayout): JsonObject {
  const names = plan.obstacles.map(({ name, u, v }) =>
    word(plotlyText(name), (u[0] + u[1]) / 2, (v[0] + v[1]) / 2, { xref: "x", yref: "y" }),
  );
  const onPaper = { xref: "x", yref: "y", yanchor: "bottom", yshift: 4, borderpad: 0, bgcolor: "#ffffff" };
  const marked = (plan.namesOnPaper ? plan.places : []).map(({ at, mark }) =>
    word(plotlyText(mark), at[0], at[1], { ...onPaper, font: { size: 10, color: ink } }),
  );
  return planeLayout({ ...plan, room: planRoom }, { shapes: shapesOf(plan), annotations: [...names, ...marked] });
}

function shapesOf(plan: PlanLayout): JsonObject[] {
  return [
    ...plan.slots.map((slot) => planeBox(slot, { fillcolor: hairline, line: { width: 0.6, color: "#8a8a88" } })),
    ...plan.obstacles.map((found) => planeBox(found, { fillcolor: hairline, line: { width: 1, color: softInk } })),
    ...(plan.rim ? [planeBox(plan.table, { line: { width: 1.5, color: ink } })] : []),
    ...(plan.travel ? [planeBox(plan.travel, { line: { width: 1, color: softInk, dash: "dash" } })] : []),
    ...plan.holes.map(({ at, radius }) => planeCircle(at, radius, { line: { width: 1, color: softInk } })),
  ];
}
