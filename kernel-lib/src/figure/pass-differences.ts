import { MeasurementError } from "../measurement-error.js";
import { printDecimals } from "../quantity/print.js";
import { heightFactor, type Survey } from "../survey/index.js";
import { barColour } from "./bars-plan.js";
import type { Figure } from "./figure.js";
import { softInk } from "./frame.js";
import { xyLengths } from "./xy-lengths.js";

/**
 * What a later pass reads above the first one, place by place in the order of reading: scatter lies about one level, swarf is a
 * single spike, a stand or datum that slipped is a step, drift is a slope. Drift is not taken out, readings set aside are left out.
 *
 * @param survey with two passes or more
 * @param pass the later one; the second where nothing is said
 * @throws MeasurementError `no-such-pass`
 * @example
 * figure.passDifferences(readSurvey("data/odd-second.csv")).texts.axes.join() // => "places in the order of reading,pass 2 less pass 1/µm"
 */
export function passDifferences(survey: Survey, pass = survey.passes[1]): Figure {
  const [first] = survey.passes;
  if (pass === undefined || pass === first || !survey.passes.includes(pass)) {
    throw new MeasurementError(
      "no-such-pass",
      `passDifferences: ${survey.name} has ${survey.passes.length === 1 ? "one pass" : `the passes ${survey.passes.join(", ")}`}; give a later pass, or read every place once more`,
    );
  }
  const points = differences(survey, first!, pass);
  if (points.length === 0) {
    throw new MeasurementError(
      "no-such-pass",
      `passDifferences: ${survey.name} has no place with readings in both pass ${first} and pass ${pass}; read the same places in both`,
    );
  }
  const sorted = points.map(({ y }) => y).sort((a, b) => a - b);
  const level = sorted[sorted.length >> 1]!;
  const axes = ["places in the order of reading", `pass ${pass} less pass ${first}/µm`];
  return xyLengths(
    {
      texts: {
        title: survey.title ?? survey.name,
        subtitle: `what pass ${pass} reads above pass ${first}, drift not taken out; line: the median`,
        axes,
        edges: [],
        lines: ["one spike: swarf or a slip of the pen; a step: stand or datum slipped; a slope: drift"],
        marked: [],
      },
      alt: `${survey.title ?? survey.name}: pass ${pass} less pass ${first} at ${points.length} places, from ${shown(sorted[0]!)} to ${shown(sorted.at(-1)!)}.`,
      series: [
        {
          points: [1, points.length].map((x) => ({ x, y: level, hover: `median: ${shown(level)}` })),
          sign: "none",
          colour: softInk,
          line: "solid",
          band: false,
        },
        { points, sign: "circle", colour: barColour, line: "none", band: false },
      ],
    },
    [survey.title ?? survey.name],
  );
}

function differences(survey: Survey, first: number, pass: number) {
  const readings = [...survey.readings()];
  const factor = heightFactor(survey.gauge);
  const before = new Map(readings.filter((r) => r.pass === first).map(({ place, z }) => [place, z.in("um")]));
  const later = readings.filter((r) => r.pass === pass && before.has(r.place));
  if (later.every(({ order }) => order !== undefined)) later.sort((a, b) => a.order! - b.order!);
  return later.map(({ place, z }, i) => {
    const y = factor * (z.in("um") - before.get(place)!);
    return { x: i + 1, y, hover: `${place}: ${shown(y)}` };
  });
}

function shown(um: number): string {
  return `${printDecimals(um, 1)} µm`;
}
