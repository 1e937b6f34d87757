import type { LevelNetwork } from "../form/index.js";
import { Figure, type JsonObject } from "./figure.js";
import { ink, plotlyText, softInk, word } from "./frame.js";
import { type NetworkOptions, type NetworkPlan, type NetworkStep, planNetwork, stepLooks } from "./network-plan.js";
import { planLayout } from "./plan-map.js";
import { stillNetwork } from "./still/network.js";
import { stripFigure } from "./straightness-strip.js";
import { planLevelStrip } from "./strip-plan.js";

/**
 * A level network as the operator at FRONT sees it: places with their heights, the steps between them, how each loop closes,
 * which readings stand out and which can't be checked. Where all places lie on one line, its heights as a strip.
 *
 * @param options give two networks the same `limitUm` to compare their colours
 * @example
 * const frame = { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" };
 * const instrument = { resolution: umPerM(1), maximumPermissibleError: umPerM(5) };
 * const run = { line: "front", start: { xMm: 0, yMm: 0 }, end: { xMm: 300, yMm: 0 }, foot: mm(100), readings: [umPerM(10), umPerM(0), umPerM(-10)], turned: [umPerM(-10), umPerM(0), umPerM(10)] };
 * figure.levelNetwork(form.levelNetwork({ name: "guide", frame, instrument, ...form.levelRuns([run]) })).texts.title // => "Straightness of guide by level"
 */
export function levelNetwork(network: LevelNetwork, options: NetworkOptions = {}): Figure {
  if (network.formName === "straightness") return stripFigure((units) => planLevelStrip(network, options, units));
  return Figure.drawn((units) => {
    const plan = planNetwork(network, options, units);
    const { texts, alt } = plan.base;
    return { texts, alt, data: liveNetwork(plan), layout: layoutOf(plan), still: stillNetwork(plan) };
  });
}

function layoutOf({ base, steps }: NetworkPlan): JsonObject {
  const layout = planLayout(base);
  const off = steps
    .filter(({ mark }) => mark !== "")
    .map(({ from, to, mark }) =>
      word(plotlyText(mark), (from[0] + to[0]) / 2, (from[1] + to[1]) / 2, {
        xref: "x",
        yref: "y",
        yshift: -12,
        font: { size: 10, color: stepLooks["stands out"].colour },
      }),
    );
  return { ...layout, annotations: [...(layout.annotations as JsonObject[]), ...off] };
}

function liveNetwork(plan: NetworkPlan): JsonObject[] {
  const looks = Object.keys(stepLooks) as (keyof typeof stepLooks)[];
  const steps = looks.flatMap((look) => {
    const list = plan.steps.filter((step) => step.look === look);
    return list.length === 0 ? [] : [segments(list, look)];
  });
  return [...steps, closuresOf(plan), places(plan)];
}

function segments(list: readonly NetworkStep[], look: keyof typeof stepLooks): JsonObject {
  const { colour, width, dash } = stepLooks[look];
  return {
    type: "scatter",
    mode: "lines",
    x: list.flatMap(({ from, to }) => [from[0], to[0], null]),
    y: list.flatMap(({ from, to }) => [from[1], to[1], null]),
    line: { color: colour, width, dash },
    hoverinfo: "skip",
  };
}

function closuresOf({ closures }: NetworkPlan): JsonObject {
  return {
    type: "scatter",
    mode: "text",
    x: closures.map(({ at }) => at[0]),
    y: closures.map(({ at }) => at[1]),
    text: closures.map(({ mark }) => plotlyText(mark)),
    textposition: "middle center",
    textfont: { size: 10, color: softInk },
    customdata: closures.map(({ hover }) => plotlyText(hover)),
    hovertemplate: "%{customdata}<extra></extra>",
  };
}

function places({ base, colours, sides }: NetworkPlan): JsonObject {
  return {
    type: "scatter",
    mode: "markers+text",
    x: base.places.map(({ at }) => at[0]),
    y: base.places.map(({ at }) => at[1]),
    text: base.places.map(({ mark }) => plotlyText(mark)),
    textposition: sides.map(([right, up]) => `${up > 0 ? "top" : "bottom"} ${right > 0 ? "right" : "left"}`),
    textfont: { size: 10, color: ink },
    marker: { size: 10, color: [...colours], line: { color: ink, width: 0.8 } },
    customdata: base.places.map(({ hover }) => plotlyText(hover)),
    hovertemplate: "%{customdata}<extra></extra>",
    cliponaxis: false,
  };
}
