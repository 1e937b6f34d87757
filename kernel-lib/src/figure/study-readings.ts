import type { GaugeStudy } from "../survey/index.js";
import { Figure, type JsonObject } from "./figure.js";
import { frameRoom, hairline, ink, liveFrame, plotlyText, softInk } from "./frame.js";
import { stillStudyReadings } from "./still/study-readings.js";
import {
  type OperatorReadings,
  planStudyReadings,
  readingsRoom,
  type StudyReadingsPlan,
} from "./study-readings-plan.js";

/**
 * Every reading of a gauge study, part by part, a sign for each operator, with lines through their means.
 *
 * @example
 * const readings = [3, 4, -6, -5, 11, 12].map((height, i) => ({ part: `P${i >> 1}`, value: um(height) }));
 * figure.studyReadings(survey.gaugeStudy({ readings, partsAre: "places" })).texts.axes.join() // => "place,reading/µm"
 */
export function studyReadings(study: GaugeStudy): Figure {
  return Figure.drawn(({ height }) => {
    const plan = planStudyReadings(study, height);
    const data = plan.operators.flatMap((series) => [means(series), points(series)]);
    return { texts: plan.texts, alt: plan.alt, data, layout: layoutOf(plan), still: stillStudyReadings(plan) };
  });
}

const symbols = ["circle", "square", "triangle-up", "circle-open", "square-open", "triangle-up-open"];

function points({ points: list, sign }: OperatorReadings): JsonObject {
  return {
    type: "scatter",
    mode: "markers",
    x: list.map(({ at }) => at),
    y: list.map(({ height }) => height),
    marker: { symbol: symbols[sign]!, size: 6, color: ink, opacity: 0.75 },
    customdata: list.map(({ hover }) => plotlyText(hover)),
    hovertemplate: "%{customdata}<extra></extra>",
  };
}

function means({ means: list }: OperatorReadings): JsonObject {
  return {
    type: "scatter",
    mode: "lines",
    x: list.map(({ at }) => at),
    y: list.map(({ height }) => height),
    line: { width: 1, color: softInk },
    hoverinfo: "skip",
  };
}

function layoutOf(plan: StudyReadingsPlan): JsonObject {
  const room = frameRoom(plan.texts);
  const axis = (
    title: string,
    ticks: StudyReadingsPlan["parts"],
    range: readonly number[],
    showgrid: boolean,
  ): JsonObject => ({
    title: { text: plotlyText(title), standoff: 6, font: { size: 12 } },
    range,
    tickvals: ticks.map(({ at }) => at),
    ticktext: ticks.map(({ text }) => plotlyText(text)),
    tickfont: { size: 11 },
    zeroline: false,
    showgrid,
    gridcolor: hairline,
    showline: true,
    linecolor: softInk,
  });
  return {
    ...liveFrame(plan.texts, plan.height, readingsRoom.bottom, readingsRoom.left),
    margin: {
      l: readingsRoom.left,
      r: readingsRoom.right,
      t: room.above + readingsRoom.top,
      b: readingsRoom.bottom + room.below,
      autoexpand: false,
    },
    hovermode: "closest",
    xaxis: axis(plan.texts.axes[0]!, plan.parts, [0.5, plan.operators[0]!.means.length + 0.5], false),
    yaxis: axis(plan.texts.axes[1]!, plan.heights, plan.range, true),
  };
}
