import type { Facing, Outline, PlannedPlace, SurveyPlan } from "../survey/index.js";
import type { FigureTexts } from "./figure.js";
import { figureWidth, frameRoom } from "./frame.js";
import { below, datumCorner, standsBelow } from "./plan-names.js";
import { type PrintUnits, placeText } from "./print-units.js";
import { type Tick, ticks } from "./ticks.js";

type Span = readonly [from: number, to: number];
type Spot = readonly [u: number, v: number];

/** A rectangle in the picture's coordinates: u to the right, v to the back. */
export interface Box {
  readonly u: Span;
  readonly v: Span;
}

/** The picture of a plan laid out: the live and the still one are both drawn from this. */
export interface PlanLayout {
  readonly texts: FigureTexts;
  readonly alt: string;
  readonly table: Box;
  /** whether the edge of the table is drawn; false where the box is only room for what stands in it */
  readonly rim: boolean;
  readonly namesOnPaper: boolean;
  readonly travel: Box | undefined;
  readonly slots: readonly Box[];
  readonly obstacles: readonly (Box & { readonly name: string })[];
  readonly holes: readonly { readonly at: Spot; readonly radius: number }[];
  readonly path: readonly Spot[];
  /** `out`: the side on which the mark stands, above where left out */
  readonly places: readonly { readonly at: Spot; readonly mark: string; readonly hover: string; readonly out?: Spot }[];
  /** `out`: the corner at which the mark stands */
  readonly datums: readonly { readonly at: Spot; readonly mark: string; readonly hover: string; readonly out: Spot }[];
  readonly u: { readonly title: string; readonly range: Span; readonly ticks: readonly Tick[] };
  readonly v: { readonly title: string; readonly range: Span; readonly ticks: readonly Tick[] };
  readonly box: { readonly left: number; readonly top: number; readonly width: number; readonly height: number };
  readonly height: number;
}

/** room beside the plot's box, for ticks, titles and the names of the edges */
export const planRoom = { left: 78, right: 32, top: 24, bottom: 58 };

/** What a plan of the table is to show, in the coordinates of the sheet. */
export interface PlanContent {
  readonly title: string;
  readonly subtitle: string;
  readonly alt: string;
  readonly facing: Facing;
  readonly outline: Outline;
  /** false where the outline is no edge of anything; drawn where left out */
  readonly rim?: boolean;
  /** names stand on paper of their own, so that no line crosses them; for a plan of few places */
  readonly namesOnPaper?: boolean;
  /** `outwardRad`: from +X towards +Y, the side on which its label stands */
  readonly places: readonly (PlannedPlace & { readonly outwardRad?: number })[];
  readonly datums: readonly PlannedPlace[];
  /** places in the order in which the line visits them */
  readonly visits: readonly { readonly xMm: number; readonly yMm: number }[];
  readonly lines: readonly string[];
}

export function layOutPlan(plan: SurveyPlan, units: PrintUnits): PlanLayout {
  const { outline, places, facing, datums } = plan;
  const { travel } = outline;
  const content: PlanContent = {
    title: plan.title,
    subtitle: `${places.length} places; the line is the order of reading in the first pass, squares are the datum places`,
    alt: `Plan of ${places.length} places on the table, ${plan.title}; FRONT is the edge ${plan.frame.front.replace("-", "−")}.`,
    facing,
    outline,
    places,
    datums,
    visits: plan.readings.filter(({ pass, visit }) => pass === 1 && visit === undefined),
    lines: travel.x || travel.y ? ["dashed: what the travel reaches"] : [],
  };
  return layOutContent(content, units);
}

export function layOutContent(content: PlanContent, units: PrintUnits): PlanLayout {
  const { outline, rim = true, namesOnPaper = false, facing, places, datums, visits, ...words } = content;
  const [su, sv] = [facing.growsRight ? 1 : -1, facing.growsBack ? 1 : -1] as const;
  const { of, symbol } = units.place;
  const spot = (xMm: number, yMm: number): Spot =>
    facing.across === "x" ? [su * of(xMm), sv * of(yMm)] : [su * of(yMm), sv * of(xMm)];
  const outwards = (turn: number): Spot => {
    const [x, y] = [Math.cos(turn), Math.sin(turn)];
    return facing.across === "x" ? [su * x, sv * y] : [su * y, sv * x];
  };
  const span = (sign: number, { fromMm, toMm }: { fromMm: number; toMm: number }): Span =>
    sign > 0 ? [of(fromMm), of(toMm)] : [0 - of(toMm), 0 - of(fromMm)];
  const { table, travel } = outline;
  const boxOf = (x = table.x, y = table.y): Box =>
    facing.across === "x" ? { u: span(su, x), v: span(sv, y) } : { u: span(su, y), v: span(sv, x) };
  const whole = boxOf();
  const reach = travel.x || travel.y ? boxOf(travel.x, travel.y) : undefined;
  const { box, u, v } = axesOf(whole);
  const fitting = marksThatFit(places, datums, (box.width / (u[1] - u[0])) * of(1));
  const marked = (list: readonly PlannedPlace[], marks: readonly string[]) =>
    list.map(({ label, xMm, yMm }, i) => ({
      at: spot(xMm, yMm),
      mark: marks[i]!,
      hover: `${label}: x ${placeText(units, xMm)}, y ${placeText(units, yMm)}`,
    }));
  const texts: FigureTexts = {
    title: words.title,
    subtitle: words.subtitle,
    axes: [`${facing.across}/${symbol}`, `${facing.away}/${symbol}`],
    edges: ["FRONT", "BACK", "LEFT", "RIGHT"],
    lines: words.lines,
    marked: [...fitting, ...datums.map((_, i) => `datum ${i + 1}`)].filter((text) => text !== ""),
  };
  const room = frameRoom(texts);
  const slots = outline.slots.map(({ along, span: band }) =>
    along === "x" ? boxOf(table.x, band) : boxOf(band, table.y),
  );
  const drawnBoxes = [...(rim ? [whole] : []), ...(reach ? [reach] : []), ...slots];
  const spots = [...places, ...datums].map(({ xMm, yMm }) => spot(xMm, yMm));
  const perUnit = box.height / (v[1] - v[0]);
  const named = marked(places, fitting).map((place, i): PlanLayout["places"][number] => {
    const { outwardRad } = places[i]!;
    if (outwardRad !== undefined) return { ...place, out: outwards(outwardRad) };
    return standsBelow(place.at, drawnBoxes, spots, perUnit) ? { ...place, out: below } : place;
  });
  return {
    texts,
    alt: words.alt,
    table: whole,
    rim,
    namesOnPaper,
    travel: reach,
    slots,
    obstacles: outline.obstacles.map(({ name, x, y }) => ({ name, ...boxOf(x, y) })),
    holes: outline.holes.map(({ xMm, yMm, radiusMm }) => ({ at: spot(xMm, yMm), radius: of(radiusMm) })),
    path: visits.map(({ xMm, yMm }) => spot(xMm, yMm)),
    places: named,
    datums: marked(
      datums,
      datums.map((_, i) => `datum ${i + 1}`),
    ).map((datum) => ({ ...datum, out: datumCorner(datum.at, datum.mark, named, perUnit) })),
    u: { title: texts.axes[0]!, range: u, ticks: ticks(whole.u[0], whole.u[1], 8, su) },
    v: { title: texts.axes[1]!, range: v, ticks: ticks(whole.v[0], whole.v[1], Math.max(2, box.height / 50), sv) },
    box: { ...box, top: room.above + planRoom.top },
    height: room.above + planRoom.top + box.height + planRoom.bottom + room.below,
  };
}

/** one scale both ways, the table with a margin about it */
function axesOf({ u, v }: Box): { box: { left: number; width: number; height: number }; u: Span; v: Span } {
  const margin = 0.02 * Math.max(u[1] - u[0], v[1] - v[0]);
  const across: Span = [u[0] - margin, u[1] + margin];
  const away: Span = [v[0] - margin, v[1] + margin];
  const most = figureWidth - planRoom.left - planRoom.right;
  const perUnit = Math.min(most / (across[1] - across[0]), 560 / (away[1] - away[0]));
  const size = {
    width: Math.round(perUnit * (across[1] - across[0])),
    height: Math.round(perUnit * (away[1] - away[0])),
  };
  return { box: { left: planRoom.left, ...size }, u: across, v: away };
}

/** names of all places where there is room for them, otherwise of the first and the last in each row */
function marksThatFit(places: readonly PlannedPlace[], datums: readonly PlannedPlace[], perMm: number): string[] {
  const room = Math.max(...places.map(({ label }) => label.length)) * 5.6 + 2;
  const clash = places.some((a, i) =>
    places.some((b, j) => j < i && Math.hypot(a.xMm - b.xMm, a.yMm - b.yMm) * perMm < Math.max(room, 13)),
  );
  const row = (label: string) => label.replace(/\d+$/, "");
  return places.map((place, i) => {
    if (datums.some((d) => d.xMm === place.xMm && d.yMm === place.yMm)) return clash ? "" : place.label;
    const isEnd =
      row(places[i - 1]?.label ?? "") !== row(place.label) || row(places[i + 1]?.label ?? "") !== row(place.label);
    return !clash || isEnd ? place.label : "";
  });
}
