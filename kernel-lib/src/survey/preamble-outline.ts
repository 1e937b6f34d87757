import { MeasurementError } from "../measurement-error.js";
import { Quantity } from "../quantity/index.js";
import type { Outline } from "./plan-outline.js";
import type { Span } from "./sheet.js";

/** Table, slots, holes and obstacles as far as the lines of a sheet say them; what could not be read stands by itself. */
export interface SaidOutline {
  readonly table: { readonly x?: Span; readonly y?: Span };
  readonly travel: Outline["travel"];
  readonly slots: Outline["slots"];
  readonly holes: Outline["holes"];
  readonly obstacles: Outline["obstacles"];
  /** a sentence for each line of these that is not understood */
  readonly unread: readonly string[];
}

/** The lines that say what the table looks like, so that whoever fills in the sheet sees its slots and holes. */
export function outlineLines({ table, slots, holes, obstacles }: Outline): (readonly [key: string, value: string])[] {
  return [
    ["table x", spanText(table.x)],
    ["table y", spanText(table.y)],
    ...slots.map(({ along, span }, i) => {
      return [`slot ${i + 1}`, `along ${along}, ${along === "x" ? "y" : "x"} ${spanText(span)}`] as const;
    }),
    ...holes.map(({ xMm, yMm, radiusMm }, i) => {
      const diameter = Number((2 * radiusMm).toPrecision(12));
      return [`hole ${i + 1}`, `x ${xMm} mm, y ${yMm} mm, diameter ${diameter} mm`] as const;
    }),
    ...obstacles.map(({ name, x, y }, i) => {
      const plain = name.replace(/[\s,]+/g, " ").trim();
      return [`obstacle ${i + 1}`, `${plain}, x ${spanText(x)}, y ${spanText(y)}`] as const;
    }),
  ];
}

/** Reads the same lines again. They are for a picture: one that is not understood is told and left out. */
export function readOutlineLines(
  lines: readonly { readonly key: string; readonly value: string; readonly line: number }[],
): SaidOutline {
  const unread: string[] = [];
  const said = (name: RegExp) => lines.filter(({ key, value }) => name.test(key) && value !== "");
  const each = <T>(name: RegExp, example: string, read: (value: string) => T | undefined): T[] =>
    said(name).flatMap(({ key, value, line }) => {
      const found = read(value);
      if (found === undefined) unread.push(`line ${line}: "# ${key}: ${value}" is not understood; write ${example}`);
      return found ?? [];
    });
  const span = (key: string) => each(new RegExp(`^${key}$`), `"# ${key}: 0 mm to 520 mm"`, spanOf)[0];
  const [tableX, tableY, travelX, travelY] = ["table x", "table y", "travel x", "travel y"].map(span);
  return {
    table: { ...(tableX && { x: tableX }), ...(tableY && { y: tableY }) },
    travel: { ...(travelX && { x: travelX }), ...(travelY && { y: travelY }) },
    slots: each(/^slot \d+$/, '"# slot 1: along x, y 38 mm to 52 mm"', slotOf),
    holes: each(/^hole \d+$/, '"# hole 1: x 260 mm, y 120 mm, diameter 12 mm"', holeOf),
    obstacles: each(/^obstacle \d+$/, '"# obstacle 1: vice, x 10 mm to 90 mm, y 20 mm to 80 mm"', obstacleOf),
    unread,
  };
}

function slotOf(value: string): Outline["slots"][number] | undefined {
  const found = /^along (x|y)\s*,\s*(x|y) (.+)$/.exec(value);
  const span = found && found[1] !== found[2] ? spanOf(found[3]!) : undefined;
  return span && { along: found![1] as "x" | "y", span };
}

function holeOf(value: string): Outline["holes"][number] | undefined {
  const found = /^x ([^,]+), ?y ([^,]+), ?diameter ([^,]+)$/.exec(value);
  const [xMm, yMm, diameter] = (found ?? []).slice(1).map(lengthMm);
  if (xMm === undefined || yMm === undefined || !(diameter !== undefined && diameter > 0)) return undefined;
  return { xMm, yMm, radiusMm: diameter / 2 };
}

function obstacleOf(value: string): Outline["obstacles"][number] | undefined {
  const found = /^([^,]+), ?x ([^,]+), ?y ([^,]+)$/.exec(value);
  const [x, y] = (found ?? []).slice(2).map(spanOf);
  return x && y && { name: found![1]!, x, y };
}

/** "0 mm to 520 mm" or "0 to 520 mm" */
function spanOf(text: string): Span | undefined {
  const [, first = "", last = ""] = /^(.+?)\s+to\s+(.+)$/.exec(text) ?? [];
  const unit = /[a-zA-Zµμ"]+\s*$/.exec(last)?.[0] ?? "";
  const [fromMm, toMm] = [lengthMm(/\d\s*$/.test(first) ? `${first} ${unit}` : first), lengthMm(last)];
  return fromMm !== undefined && toMm !== undefined && toMm > fromMm ? { fromMm, toMm } : undefined;
}

function lengthMm(text: string): number | undefined {
  try {
    return Quantity.parse("length", text).in("mm");
  } catch (error) {
    if (error instanceof MeasurementError) return undefined;
    throw error;
  }
}

function spanText({ fromMm, toMm }: Span): string {
  return `${fromMm} mm to ${toMm} mm`;
}
