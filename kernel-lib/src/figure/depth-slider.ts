import { chanceText } from "../decision/prediction.js";
import type { FacingDepth } from "../facing/index.js";
import { type Length, um } from "../quantity/index.js";
import { heightScale } from "./colour.js";
import { Figure, type FigureContent, type JsonObject } from "./figure.js";
import { figureWidth, hairline, ink } from "./frame.js";
import { heightLimit } from "./height-map.js";
import { liveMap } from "./map-live.js";
import { type MapPlan, planMap } from "./map-plan.js";
import type { PrintUnits } from "./print-units.js";
import { restated } from "./restated.js";
import { stillMap } from "./still/map.js";
import { roundStep } from "./ticks.js";

/** no more steps than this: each is a picture of its own in the page */
const mostSteps = 20;
const sliderRoom = 74;
/** px from its ends to the rim of the figure */
const sliderRim = 14;

/**
 * Map of a facing cut with a slider for its depth: what is cut and what the cutter passes above, area cleaned, chance
 * that all of it is, volume and thickness left in the label of each step.
 *
 * Heights are those over the plane of the cut, so that zero parts what is cleaned from what is not. At most 20 steps,
 * computed beforehand: it works in a page with no kernel. The still picture shows the least step that cleans all of it
 * with a chance of 95 %.
 *
 * @throws MeasurementError `frame`, `shape`, `not-finite`, `too-few-places`
 * @example
 * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 * i, yMm: 50 * j, zUm: 10 * i, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const map = { name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(1) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 12 } };
 * figure.depthSlider(facing.depth(map, { draws: 100 })).layout.sliders.length // => 1
 */
export function depthSlider(depth: FacingDepth): Figure {
  const steps = depthSteps(depth);
  const sure = steps.findIndex((step) => step.si >= depth.cleansAll.sure.si);
  const shown = sure < 0 ? steps.length - 1 : sure;
  return Figure.drawn((units) => sliderContent(depth, steps, shown, units));
}

/** round depths from shallow to past what is sure to clean all of it */
function depthSteps({ cleansAll }: FacingDepth): readonly Length[] {
  const last = Math.max(cleansAll.high.in("um"), cleansAll.sure.in("um"), 0.5);
  const fine = roundStep(last, mostSteps);
  // a step that rounds down would need more than 20
  const step = last / fine > mostSteps - 1 ? roundStep(last, mostSteps / 2) : fine;
  const count = Math.min(mostSteps, Math.ceil(last / step + 1e-9) + 1);
  return Array.from({ length: count }, (_, i) => um(Number((step * (i + 1)).toPrecision(12))));
}

function sliderContent(depth: FacingDepth, steps: readonly Length[], shown: number, units: PrintUnits): FigureContent {
  const { surface } = depth;
  const heights = steps.map((step) => depth.heightsOverCut(step).map((height) => height.in("um")));
  const limit = heightLimit(heights.flat(), surface, units);
  const labels = steps.map((step) => restated(labelOf(depth, step), units.system));
  const plans = heights.map(
    (values): MapPlan =>
      planMap({
        surface,
        values,
        titles: [
          `${surface.name}: facing cut against its depth`,
          "height over the plane of the cut: above zero it is cut, below zero the cutter passes above",
        ],
        quantity: "cut",
        scale: heightScale,
        span: [-limit, limit],
        options: {
          cautions: [{ title: "before and while the plate is cut", lines: [depth.cautions[0]!] }],
          notes: [`as first shown: ${labels[shown]!}`, depth.notes[2]!],
        },
        units,
      }),
  );
  const plan = plans[shown]!;
  return {
    texts: plan.texts,
    alt: `${plan.alt} ${labels[shown]}.`,
    ...live(plans, labels, shown),
    still: stillMap(plan),
  };
}

function labelOf(depth: FacingDepth, step: Length): string {
  const { areaCleaned, chanceOfCleanUp, volume, thicknessLeft } = depth.at(step);
  const percent = (share: number) => `${(100 * share).toFixed(0)} %`;
  const left = thicknessLeft ? `, ${thicknessLeft.in("mm").toFixed(2)} mm left` : "";
  return `${step.in("um")} µm below first contact: ${percent(areaCleaned.share)} cleaned, chance of all ${chanceText(chanceOfCleanUp)}, ${volume.in("cm3").toFixed(2)} cm³${left}`;
}

/** one pair of traces a step, shown one at a time */
function live(plans: readonly MapPlan[], labels: readonly string[], shown: number) {
  const maps = plans.map(liveMap);
  const perStep = maps[0]!.data.length;
  const data = maps.flatMap(({ data: traces }, i) => traces.map((trace) => ({ ...trace, visible: i === shown })));
  const steps = labels.map((label, i) => ({
    label,
    method: "update",
    args: [{ visible: data.map((_, k) => Math.floor(k / perStep) === i) }],
  }));
  return { data, layout: withSlider(maps[shown]!.layout, steps, shown) };
}

function withSlider(layout: JsonObject, steps: readonly JsonObject[], shown: number): JsonObject {
  const height = (layout.height as number) + sliderRoom;
  const margin = layout.margin as { readonly b: number; readonly l: number; readonly r: number };
  // the words above it are longer than the map is wide: it begins and ends near the rim of the figure
  const plotWidth = figureWidth - margin.l - margin.r;
  const room = { left: (margin.l - sliderRim) / plotWidth, right: (margin.r - sliderRim) / plotWidth };
  return {
    ...layout,
    height,
    margin: { ...margin, b: margin.b + sliderRoom },
    title: { ...(layout.title as JsonObject), y: 1 - 28 / height },
    sliders: [
      {
        active: shown,
        steps,
        x: -room.left,
        len: 1 + room.left + room.right,
        y: 0,
        yanchor: "top",
        pad: { t: margin.b - 8, b: 0, l: 0, r: 0 },
        currentvalue: { visible: true, xanchor: "left", font: { size: 12, color: ink }, offset: 6 },
        // the label of a step is a line long: shown for the chosen one alone
        font: { size: 1, color: "rgba(0,0,0,0)" },
        ticklen: 4,
        bgcolor: hairline,
        bordercolor: hairline,
      },
    ],
  };
}
