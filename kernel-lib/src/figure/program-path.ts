import type { Replay } from "../facing/replay.js";
import { Figure, type JsonObject } from "./figure.js";
import { hairline, ink, plotlyText, softInk, word } from "./frame.js";
import { layOutPath, type PathLayout } from "./path-layout.js";
import { planRoom } from "./plan-layout.js";
import { planeBox, planeCircle, planeLayout } from "./plane-live.js";
import { stillPath } from "./still/path.js";

/**
 * The way of the cutter that a replayed program takes, as seen by the operator at FRONT: plate, screws, obstacles, and the
 * three outlines of travel, rim and probe. Lines that were refused are marked by crosses.
 *
 * @throws MeasurementError `frame`
 * @example
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const job = { name: "club plate", frame, travel: facing.area(mm(0), mm(520), mm(0), mm(230)), travelZ: { from: mm(-20), to: mm(200) }, plate: facing.area(mm(40), mm(480), mm(20), mm(220)), zero: { x: mm(40), y: mm(20) }, workOffset: "G54", cutter: { diameter: mm(50), teeth: 1, greatestSpeed: perMin(1200) }, speed: perMin(600), feedPerTooth: mm(0.1), feedDown: mmPerMin(100), stepOver: mm(30), runOut: mm(3), feedAlong: "x", rounds: [{ depth: mm(0.3) }], floor: mm(-1), clearance: mm(5), retract: mm(50), spinUp: seconds(5), screws: [], margin: mm(0.5) };
 * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 + 146 * i, yMm: 20 + 100 * j, zUm: 10 * i, count: 2 })));
 * const top = { name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 1, degreesOfFreedom: 12 } };
 * figure.programPath(facing.replay(facing.program(job).text, job, top, { pitch: mm(5) })).texts.title // => "Way of the cutter: club plate"
 */
export function programPath(replay: Replay): Figure {
  return Figure.drawn((units) => {
    const laid = layOutPath(replay, units);
    return { texts: laid.texts, alt: laid.alt, ...livePath(laid), still: stillPath(laid) };
  });
}

function livePath(path: PathLayout): { data: JsonObject[]; layout: JsonObject } {
  return {
    data: [
      ways(path.rapids, { width: 0.6, color: softInk }),
      ways(path.feeds, { width: 1.4, color: ink }),
      marks(
        path.faults.map(({ at, text }) => ({ at, label: text })),
        "top center",
        { symbol: "x-thin", size: 10, line: { width: 2, color: ink } },
      ),
    ],
    layout: layoutOf(path),
  };
}

function ways(list: PathLayout["feeds"], line: JsonObject): JsonObject {
  // a null lifts the pen between two ways
  return {
    type: "scatter",
    mode: "lines",
    x: list.flatMap(([a, b]) => [a[0], b[0], null]),
    y: list.flatMap(([a, b]) => [a[1], b[1], null]),
    line,
    hoverinfo: "skip",
  };
}

function marks(
  list: readonly { readonly at: readonly [number, number]; readonly label: string }[],
  textposition: string,
  marker: JsonObject,
): JsonObject {
  return {
    type: "scatter",
    mode: "markers+text",
    x: list.map(({ at: [u] }) => u),
    y: list.map(({ at: [, v] }) => v),
    text: list.map(({ label }) => plotlyText(label)),
    textposition,
    textfont: { size: 10, color: ink },
    marker,
    hoverinfo: "skip",
    cliponaxis: false,
  };
}

function layoutOf(path: PathLayout): JsonObject {
  const inPlace = { xref: "x", yref: "y" };
  const names = path.obstacles.map(({ name, u, v }) =>
    word(plotlyText(name), (u[0] + u[1]) / 2, (v[0] + v[1]) / 2, { ...inPlace, bgcolor: hairline }),
  );
  const arrows = path.feeds.map(([a, b]): JsonObject => {
    const middle = { x: 0.55 * b[0] + 0.45 * a[0], y: 0.55 * b[1] + 0.45 * a[1] };
    const tail = { ax: a[0], ay: a[1], axref: "x", ayref: "y" };
    return { ...inPlace, ...middle, ...tail, text: "", showarrow: true, arrowhead: 2, arrowwidth: 1.4 };
  });
  // on paper of their own, right of their ring: the ways go below them
  const screws = path.screws.map(({ at, radius, label }) =>
    word(plotlyText(label), at[0] + radius, at[1], {
      ...inPlace,
      xanchor: "left",
      xshift: 2,
      borderpad: 0,
      bgcolor: plateFill,
      font: { size: 10, color: ink },
    }),
  );
  const annotations = [...arrows, ...names, ...screws];
  return planeLayout({ ...path, room: planRoom }, { shapes: shapesOf(path), annotations });
}

const plateFill = "#f1f0ec";
const dashes = ["dash", "dot", "dashdot"];

function shapesOf(path: PathLayout): JsonObject[] {
  const thin = { width: 1, color: softInk };
  return [
    planeBox(path.plate, { fillcolor: plateFill, line: { width: 1.5, color: ink } }),
    ...path.obstacles.map((found) => planeBox(found, { fillcolor: hairline, line: thin })),
    ...path.outlines.map((found) => planeBox(found, { line: { ...thin, dash: dashes[found.dash]! } })),
    ...path.screws.map(({ at, radius }) => planeCircle(at, radius, { line: { width: 1, color: ink } })),
    ...(path.cutter
      ? [planeCircle(path.cutter.at, path.cutter.radius, { line: { width: 1, color: ink, dash: "dot" } })]
      : []),
  ];
}
