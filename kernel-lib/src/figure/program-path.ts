import type { Replay } from "../facing/replay.js";
import { Figure, type JsonObject } from "./figure.js";
import { frameRoom, hairline, ink, liveFrame, plotlyText, softInk, word } from "./frame.js";
import { layOutPath, type PathLayout } from "./path-layout.js";
import { type Box, planRoom } from "./plan-layout.js";
import { planeAxis, planeWords } from "./plane-live.js";
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
      marks(path.screws, "middle right", { size: 6, symbol: "circle-open", color: ink }),
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
  const room = frameRoom(path.texts);
  const frame = liveFrame(path.texts, path.height, planRoom.bottom, planRoom.left);
  const margin = {
    l: planRoom.left,
    r: planRoom.right,
    t: room.above + planRoom.top,
    b: planRoom.bottom + room.below,
    autoexpand: false,
  };
  const inPlace = { xref: "x", yref: "y" };
  const names = path.obstacles.map(({ name, u, v }) =>
    word(plotlyText(name), (u[0] + u[1]) / 2, (v[0] + v[1]) / 2, inPlace),
  );
  const arrows = path.feeds.map(([a, b]): JsonObject => {
    const middle = [0.55 * b[0] + 0.45 * a[0], 0.55 * b[1] + 0.45 * a[1]] as const;
    const tail = { ax: a[0], ay: a[1], axref: "x", ayref: "y" };
    return {
      ...inPlace,
      x: middle[0],
      y: middle[1],
      ...tail,
      text: "",
      showarrow: true,
      arrowhead: 2,
      arrowwidth: 1.4,
    };
  });
  return {
    ...frame,
    margin,
    hovermode: "closest",
    xaxis: planeAxis(path.u, {}),
    yaxis: planeAxis(path.v, { scaleanchor: "x", scaleratio: 1 }),
    shapes: shapesOf(path),
    annotations: [...(frame.annotations as JsonObject[]), ...planeWords(), ...names, ...arrows],
  };
}

const dashes = ["dash", "dot", "dashdot"];

function shapesOf(path: PathLayout): JsonObject[] {
  const box = ({ u, v }: Box, more: JsonObject): JsonObject => ({
    type: "rect",
    layer: "below",
    x0: u[0],
    x1: u[1],
    y0: v[0],
    y1: v[1],
    ...more,
  });
  const circle = ([u, v]: readonly [number, number], r: number, line: JsonObject): JsonObject => ({
    type: "circle",
    layer: "below",
    x0: u - r,
    x1: u + r,
    y0: v - r,
    y1: v + r,
    line,
  });
  return [
    box(path.plate, { fillcolor: "#f1f0ec", line: { width: 1.5, color: ink } }),
    ...path.obstacles.map((found) => box(found, { fillcolor: hairline, line: { width: 1, color: softInk } })),
    ...path.outlines.map((found) => box(found, { line: { width: 1, color: softInk, dash: dashes[found.dash]! } })),
    ...path.screws.map(({ at, radius }) => circle(at, radius, { width: 1, color: ink })),
    ...(path.cutter ? [circle(path.cutter.at, path.cutter.radius, { width: 1, color: ink, dash: "dot" })] : []),
  ];
}
