import { refusePlan } from "./plan-detection.js";
import type { Facing, Outline } from "./plan-outline.js";
import type { Span } from "./sheet.js";

/** A place to be probed. */
export interface PlannedPlace {
  /** rows A, B … from FRONT, columns 1, 2 … from the left */
  readonly label: string;
  readonly xMm: number;
  readonly yMm: number;
}

/** The places of a plan. */
export interface PlannedGrid {
  /** positions, least first */
  readonly x: readonly number[];
  readonly y: readonly number[];
  /** row by row from FRONT, each from the left */
  readonly rows: readonly (readonly PlannedPlace[])[];
  /** places of the grid that cannot be probed, with the reason */
  readonly leftOut: readonly { readonly label: string; readonly reason: string }[];
  /** rows or columns moved off a slot, a sentence each */
  readonly moved: readonly string[];
}

export interface GridTerms {
  readonly pitchX: number;
  readonly pitchY: number;
  /** from the edges of the table, and from slots and holes, mm */
  readonly edge: number;
  readonly clearance: number;
}

/** Lays the grid out: within travel and table, 10 mm from edges, off slots, holes and what stands in the way. */
export function planGrid(outline: Outline, facing: Facing, terms: GridTerms): PlannedGrid {
  const moved: string[] = [];
  const axis = (name: "x" | "y", pitch: number): number[] => {
    const bands = outline.slots
      .filter(({ along }) => along !== name)
      .map(({ span }) => ({ fromMm: span.fromMm - terms.clearance, toMm: span.toMm + terms.clearance }));
    const usable = usableSpan(outline, name, terms.edge);
    return positions(usable, pitch, bands, (from, to) => moved.push(movedNote(name, from, to)));
  };
  const x = axis("x", terms.pitchX);
  const y = axis("y", terms.pitchY);
  const sorted = (name: "x" | "y", ascending: boolean) => {
    const list = name === "x" ? x : y;
    return ascending ? list : [...list].reverse();
  };
  const leftOut: { label: string; reason: string }[] = [];
  const rows = sorted(facing.away, facing.growsBack).map((away, row) =>
    sorted(facing.across, facing.growsRight).flatMap((across, column) => {
      const [xMm, yMm] = facing.across === "x" ? [across, away] : [away, across];
      const place = { label: `${rowName(row)}${column + 1}`, xMm, yMm };
      const reason = blockedBy(outline, place, terms.clearance);
      if (reason === undefined) return [place];
      leftOut.push({ label: place.label, reason });
      return [];
    }),
  );
  return { x, y, rows, leftOut, moved };
}

/** the part of the table that the stylus may touch and the travel reaches */
function usableSpan({ table, travel }: Outline, name: "x" | "y", edge: number): Span {
  const top = table[name];
  const reach = travel[name] ?? top;
  const fromMm = Math.max(top.fromMm + edge, reach.fromMm);
  const toMm = Math.min(top.toMm - edge, reach.toMm);
  if (toMm > fromMm) return { fromMm, toMm };
  return refusePlan(
    `nothing of the table along ${name} is within travel and ${edge} mm from its edges; check table (${top.fromMm} to ${top.toMm} mm) and travel (${reach.fromMm} to ${reach.toMm} mm)`,
  );
}

/** Evenly spaced positions at no more than the pitch, on whole millimetres (tenths below a pitch of 5 mm). */
function positions(
  { fromMm, toMm }: Span,
  pitch: number,
  bands: readonly Span[],
  onMove: (from: number, to: number | undefined) => void,
): number[] {
  const unit = pitch >= 5 ? 1 : 10;
  const floor = (value: number) => Math.floor(value * unit + 1e-6) / unit;
  const ceil = (value: number) => Math.ceil(value * unit - 1e-6) / unit;
  const count = Math.max(2, Math.ceil((toMm - fromMm) / pitch - 1e-9) + 1);
  if (count > mostAlong)
    refusePlan(
      `${count} places along ${Number((toMm - fromMm).toFixed(6))} mm at a pitch of ${pitch} mm; plan ${mostAlong} at most, or a part of the table`,
    );
  const step = floor((toMm - fromMm) / (count - 1));
  if (!(step > 0))
    refusePlan(`${Number((toMm - fromMm).toFixed(6))} mm are too little for a grid; plan a larger part of the table`);
  const start = floor((fromMm + toMm - step * (count - 1)) / 2);
  const first = start < fromMm ? ceil(fromMm) : start;
  const found: number[] = [];
  for (let i = 0; i < count; i++) {
    const wanted = Number((first + i * step).toFixed(6));
    const band = bands.find((b) => wanted > b.fromMm && wanted < b.toMm);
    const choices = band ? [floor(band.fromMm), ceil(band.toMm)] : [wanted];
    const free = choices
      .filter((at) => at >= fromMm && at <= toMm && !bands.some((b) => at > b.fromMm && at < b.toMm))
      .filter((at) => found.every((other) => Math.abs(other - at) > step / 4))
      .sort((a, b) => Math.abs(a - wanted) - Math.abs(b - wanted));
    if (free[0] !== wanted) onMove(wanted, free[0]);
    if (free[0] !== undefined) found.push(free[0]);
  }
  if (found.length < 2)
    refusePlan("slots leave fewer than two rows or columns to probe; choose a smaller pitch or clearance");
  return found.sort((a, b) => a - b);
}

export const mostAlong = 200;

function movedNote(name: "x" | "y", from: number, to: number | undefined): string {
  const what = `${name} ${from} mm lies over a slot`;
  return to === undefined
    ? `${what} and was left out, as its neighbours stand there`
    : `${what} and was moved to ${name} ${to} mm`;
}

function blockedBy({ holes, obstacles }: Outline, { xMm, yMm }: PlannedPlace, clearance: number): string | undefined {
  if (holes.some((h) => Math.hypot(h.xMm - xMm, h.yMm - yMm) < h.radiusMm + clearance)) return "a hole";
  return obstacles.find(
    ({ x, y }) =>
      xMm > x.fromMm - clearance && xMm < x.toMm + clearance && yMm > y.fromMm - clearance && yMm < y.toMm + clearance,
  )?.name;
}

/** A … Z, AA, AB … */
function rowName(row: number): string {
  const letter = String.fromCharCode(65 + (row % 26));
  return row < 26 ? letter : rowName(Math.floor(row / 26) - 1) + letter;
}
