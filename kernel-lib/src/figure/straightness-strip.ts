import type { Straightness } from "../form/straightness.js";
import { barColour } from "./bars-plan.js";
import { Figure, type JsonObject } from "./figure.js";
import { ink, plotlyText, softInk } from "./frame.js";
import { graphLayout } from "./graph-live.js";
import type { PrintUnits } from "./print-units.js";
import { stillStrip } from "./still/strip.js";
import { planStrip, type StripOptions, type StripPlan, stripRoom } from "./strip-plan.js";

/**
 * A straightness as a strip: heights of the places above the mid line of the minimum zone, the zone dashed, stems for the
 * noise of one place. Give two strips the same `limitUm` to compare them.
 *
 * @param found as `form.straightness` gives it
 * @example
 * const read = form.levelLine({ name: "guide", base: mm(100), passes: [[arcsec(0), arcsec(3), arcsec(7)]], maximumPermissibleError: arcsec(1), resolution: arcsec(1) });
 * figure.straightnessStrip(form.straightnessOf(read)).texts.axes.join() // => "place/mm,height/µm"
 */
export function straightnessStrip(found: Straightness, options: StripOptions = {}): Figure {
  return stripFigure((units) => planStrip(found, options, units));
}

/** A strip, live and still, from its layout. */
export function stripFigure(layOut: (units: PrintUnits) => StripPlan): Figure {
  return Figure.drawn((units) => {
    const plan = layOut(units);
    return { texts: plan.texts, alt: plan.alt, ...liveStrip(plan), still: stillStrip(plan) };
  });
}

function liveStrip(plan: StripPlan): { data: JsonObject[]; layout: JsonObject } {
  const across = { range: plan.range, ticks: plan.atTicks };
  const up = { range: [-plan.limit, plan.limit], ticks: plan.heightTicks } as const;
  const layout = graphLayout({ ...plan, room: stripRoom }, across, up);
  const zone = [...plan.zone].reverse().map(
    (y): JsonObject => ({
      type: "scatter",
      mode: "lines",
      x: [...plan.range],
      y: [y, y],
      line: { color: softInk, width: 1, dash: "dash" },
      hoverinfo: "skip",
    }),
  );
  return { data: [...zone, profile(plan)], layout };
}

function profile({ points }: StripPlan): JsonObject {
  return {
    type: "scatter",
    mode: "lines+markers",
    x: points.map(({ at }) => at),
    y: points.map(({ height }) => height),
    error_y: { type: "data", array: points.map(({ stem }) => stem), color: barColour, thickness: 1, width: 3 },
    line: { color: barColour, width: 1.6 },
    marker: { color: ink, size: 5 },
    customdata: points.map(({ hover }) => plotlyText(hover)),
    hovertemplate: "%{customdata}<extra></extra>",
  };
}
