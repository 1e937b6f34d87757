import type { Area } from "../facing/reach.js";
import type { Replay } from "../facing/replay.js";
import type { FigureTexts } from "./figure.js";
import { figureWidth, frameRoom } from "./frame.js";
import type { Box as Picture } from "./map-plan.js";
import { type Box, planRoom } from "./plan-layout.js";
import type { PrintUnits } from "./print-units.js";
import { type Tick, ticks } from "./ticks.js";
import { along, type View, viewAxes } from "./view.js";

type Axes = Pick<View, "across" | "away"> & { readonly place: PrintUnits["place"] };
type Span = readonly [from: number, to: number];
type Spot = readonly [u: number, v: number];

/** The way of the cutter laid out: the live and the still picture are both drawn from this. */
export interface PathLayout {
  readonly texts: FigureTexts;
  readonly alt: string;
  readonly plate: Box;
  /** what the travel, the rim and the probe reach, each with the number of its dashes */
  readonly outlines: readonly (Box & { readonly name: string; readonly dash: number })[];
  readonly obstacles: readonly (Box & { readonly name: string })[];
  readonly screws: readonly { readonly at: Spot; readonly radius: number; readonly label: string }[];
  readonly feeds: readonly (readonly [Spot, Spot])[];
  readonly rapids: readonly (readonly [Spot, Spot])[];
  /** the cutter where it first goes down */
  readonly cutter: { readonly at: Spot; readonly radius: number } | undefined;
  /** ends of moves that were refused */
  readonly faults: readonly { readonly at: Spot; readonly text: string }[];
  readonly u: { readonly title: string; readonly range: Span; readonly ticks: readonly Tick[] };
  readonly v: { readonly title: string; readonly range: Span; readonly ticks: readonly Tick[] };
  readonly box: Picture;
  readonly height: number;
}

export const outlineNames = ["travel of the spindle", "reach of the rim", "outermost places probed"];

export function layOutPath(replay: Replay, units: PrintUnits): PathLayout {
  const { job } = replay;
  const { place } = units;
  const view: Axes = { ...viewAxes(job.frame, job.name), place };
  const radius = place.of(job.cutter.diameter.in("mm") / 2);
  const [travel, plate, probed] = [boxOf(view, job.travel), boxOf(view, job.plate), boxOf(view, replay.probed)];
  const rim: Box = { u: [travel.u[0] - radius, travel.u[1] + radius], v: [travel.v[0] - radius, travel.v[1] + radius] };
  const ways = waysOf(replay, view);
  const faults = faultsOf(replay, view);
  const texts = textsOf(
    replay,
    view,
    faults.map(({ text }) => text),
  );
  const room = frameRoom(texts);
  const obstacles = (job.obstacles ?? []).map(({ name, area }) => ({ name, ...boxOf(view, area) }));
  const { box, u, v } = axesOf([travel, plate, probed, rim, ...obstacles]);
  const [su, sv] = [view.across.sign, view.away.sign];
  const [first] = ways.feeds;
  return {
    texts,
    alt: `Way of the cutter over ${job.name} from above: ${ways.feeds.length} feeds along ${job.feedAlong}; FRONT is the edge ${job.frame.front.replace("-", "−")}.`,
    plate,
    outlines: [travel, rim, probed].map((outline, dash) => ({ ...outline, name: outlineNames[dash]!, dash })),
    obstacles,
    screws: job.screws.map(({ label, x, y, headDiameter }) => ({
      at: spotOf(view, x.in("mm"), y.in("mm")),
      radius: place.of(headDiameter.in("mm") / 2),
      label,
    })),
    ...ways,
    cutter: first && { at: first[0], radius },
    faults,
    u: { title: texts.axes[0]!, range: u, ticks: ticks(u[0], u[1], 8, su) },
    v: { title: texts.axes[1]!, range: v, ticks: ticks(v[0], v[1], Math.max(2, box.height / 50), sv) },
    box: { ...box, top: room.above + planRoom.top },
    height: room.above + planRoom.top + box.height + planRoom.bottom + room.below,
  };
}

function textsOf({ job, refusals }: Replay, { across, away, place }: Axes, faults: readonly string[]): FigureTexts {
  const found = refusals.length === 0 ? "passes" : `${refusals.length} refused`;
  return {
    title: `Way of the cutter: ${job.name}`,
    subtitle: `arrows: feeding at depth; thin: rapids above the work; replay ${found}`,
    axes: [`${across.name}/${place.symbol}`, `${away.name}/${place.symbol}`],
    edges: ["FRONT", "BACK", "LEFT", "RIGHT"],
    lines: [
      "Caution: isolate the spindle before you reach in; dry run above the work first, and stay with the machine.",
      "dashed: travel of the spindle; dotted: reach of the rim; dash-dotted: outermost places probed, nothing outside is called clean",
      ...(refusals.length === 0 ? [] : ["crosses: where a line was refused"]),
    ],
    marked: [...job.screws.map(({ label }) => label), ...(job.obstacles ?? []).map(({ name }) => name), ...faults],
  };
}

function waysOf({ moves }: Replay, view: Axes): Pick<PathLayout, "feeds" | "rapids"> {
  const kept = { feed: new Map<string, readonly [Spot, Spot]>(), rapid: new Map<string, readonly [Spot, Spot]>() };
  for (const { kind, from, to } of moves) {
    if (from.xMm === undefined || from.yMm === undefined || to.xMm === undefined || to.yMm === undefined) continue;
    if (from.xMm === to.xMm && from.yMm === to.yMm) continue;
    const way = [spotOf(view, from.xMm, from.yMm), spotOf(view, to.xMm, to.yMm)] as const;
    // a way gone again at another depth is drawn once
    kept[kind].set(way.flat().join(), way);
  }
  return { feeds: [...kept.feed.values()], rapids: [...kept.rapid.values()] };
}

const mostFaults = 8;

function faultsOf({ moves, refusals }: Replay, view: Axes): PathLayout["faults"] {
  const lines = new Map<string, { readonly at: Spot; readonly lines: number[] }>();
  for (const line of new Set(refusals.map((refusal) => refusal.line))) {
    const to = moves.find((move) => move.line === line)?.to;
    if (to?.xMm === undefined || to.yMm === undefined) continue;
    const at = spotOf(view, to.xMm, to.yMm);
    const found = lines.get(at.join());
    if (found) found.lines.push(line);
    else lines.set(at.join(), { at, lines: [line] });
  }
  return [...lines.values()]
    .slice(0, mostFaults)
    .map(({ at, lines: [first, ...more] }) => ({ at, text: more.length > 0 ? `line ${first} …` : `line ${first}` }));
}

function spotOf({ across, away, place }: Axes, xMm: number, yMm: number): Spot {
  const own = { x: place.of(xMm), y: place.of(yMm) };
  return [along(across, own), along(away, own)];
}

function boxOf(view: Axes, { xFrom, xTo, yFrom, yTo }: Area): Box {
  const [a, b] = [spotOf(view, xFrom.in("mm"), yFrom.in("mm")), spotOf(view, xTo.in("mm"), yTo.in("mm"))];
  return { u: [Math.min(a[0], b[0]), Math.max(a[0], b[0])], v: [Math.min(a[1], b[1]), Math.max(a[1], b[1])] };
}

/** one scale both ways, all outlines with a margin about them */
function axesOf(boxes: readonly Box[]): { box: Omit<Picture, "top">; u: Span; v: Span } {
  const u: Span = [Math.min(...boxes.map((b) => b.u[0])), Math.max(...boxes.map((b) => b.u[1]))];
  const v: Span = [Math.min(...boxes.map((b) => b.v[0])), Math.max(...boxes.map((b) => b.v[1]))];
  const margin = 0.02 * Math.max(u[1] - u[0], v[1] - v[0]);
  const [across, away]: [Span, Span] = [
    [u[0] - margin, u[1] + margin],
    [v[0] - margin, v[1] + margin],
  ];
  const most = figureWidth - planRoom.left - planRoom.right;
  const perMm = Math.min(most / (across[1] - across[0]), 560 / (away[1] - away[0]));
  const [width, height] = [Math.round(perMm * (across[1] - across[0])), Math.round(perMm * (away[1] - away[0]))];
  return { box: { left: planRoom.left, width, height }, u: across, v: away };
}
