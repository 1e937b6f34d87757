import {
  type BarsContent,
  type BarsPlan,
  barColour,
  barsRoom,
  limitWordsEnd,
  planBars,
  reachOf,
  topOf,
} from "./bars-plan.js";
import { Figure, type JsonObject } from "./figure.js";
import { frameRoom, hairline, ink, liveFrame, plotlyText, softInk } from "./frame.js";
import { stillBars } from "./still/bars.js";

/**
 * Bars lying on their side: the shares of an error budget, the options of a decision.
 *
 * @throws MeasurementError `not-finite` for a value that is below zero or no number, `no-rows`
 * @example
 * figure.bars({ title: "shares", axis: "share/%", rows: [{ label: "gauge", value: 88, text: "88 %" }] }).texts.title // => "shares"
 */
export function bars(content: BarsContent): Figure {
  const plan = planBars(content);
  return new Figure({ texts: plan.texts, alt: plan.alt, ...liveBars(plan), still: stillBars(plan) });
}

function liveBars(plan: BarsPlan): { data: JsonObject[]; layout: JsonObject } {
  const room = frameRoom(plan.texts);
  const places = plan.rows.map((_, i) => i);
  const trace: JsonObject = {
    type: "bar",
    orientation: "h",
    x: plan.rows.map(({ value }) => value),
    y: places,
    width: 21 / plan.row,
    marker: { color: barColour },
    ...whiskersOf(plan),
    customdata: plan.rows.map(({ label, text }) => `${plotlyText(label)}: ${plotlyText(text)}`),
    hovertemplate: "%{customdata}<extra></extra>",
  };
  // words of their own: beside a bar they would stand on its whisker
  const words: JsonObject = {
    type: "scatter",
    mode: "text",
    x: plan.rows.map(reachOf),
    y: places,
    text: plan.rows.map(({ text }) => ` ${plotlyText(text)}`),
    textposition: "middle right",
    textfont: { size: 12, color: ink },
    cliponaxis: false,
    hoverinfo: "skip",
  };
  const frame = liveFrame(plan.texts, plan.height, barsRoom.bottom, barsRoom.left);
  const named = plan.rows.map(({ lines }) => lines.map(plotlyText).join("<br>"));
  const quiet: JsonObject = { zeroline: false, fixedrange: true };
  const layout: JsonObject = {
    ...frame,
    showlegend: false,
    margin: {
      l: barsRoom.left,
      r: plan.right,
      t: room.above + topOf(plan.limit),
      b: barsRoom.bottom + room.below,
      autoexpand: false,
    },
    xaxis: {
      ...quiet,
      title: { text: plotlyText(plan.texts.axes[0]!), standoff: 6, font: { size: 12 } },
      range: [0, plan.end],
      tickvals: plan.ticks.map(({ at }) => at),
      ticktext: plan.ticks.map(({ text }) => text),
      tickfont: { size: 11 },
      gridcolor: hairline,
    },
    yaxis: {
      ...quiet,
      range: [plan.rows.length - 0.5, -0.5],
      tickvals: places,
      ticktext: named,
      tickfont: { size: 12 },
      showgrid: false,
      showline: true,
      linecolor: softInk,
    },
    ...limitOf(plan, frame.annotations as readonly JsonObject[]),
  };
  return { data: plan.wordsUnderName ? [trace] : [trace, words], layout };
}

function whiskersOf({ rows }: BarsPlan): JsonObject {
  if (rows.every(({ low, high }) => low === undefined && high === undefined)) return {};
  return {
    error_x: {
      type: "data",
      symmetric: false,
      array: rows.map(({ value, high = value }) => high - value),
      arrayminus: rows.map(({ value, low = value }) => value - low),
      color: ink,
      thickness: 1.5,
      width: 5,
    },
  };
}

function limitOf(plan: BarsPlan, annotations: readonly JsonObject[]): JsonObject {
  const { limit } = plan;
  if (limit === undefined) return {};
  const line = { color: ink, width: 1.2, dash: "5px,3px" };
  return {
    shapes: [{ type: "line", xref: "x", yref: "paper", x0: limit.at, x1: limit.at, y0: 0, y1: 1, line }],
    annotations: [
      ...annotations,
      {
        text: plotlyText(limit.text),
        xref: "x",
        x: limit.at,
        yref: "paper",
        y: 1,
        yanchor: "bottom",
        xanchor: limitWordsEnd(plan) ? "right" : "center",
        showarrow: false,
        font: { size: 11, color: ink },
      },
    ],
  };
}
