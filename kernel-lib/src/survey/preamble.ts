import type { Gauge } from "./gauge.js";
import { readFrame } from "./preamble-frame.js";
import { mergeGauge } from "./preamble-gauge.js";
import { type PreambleLines, quantityOf } from "./preamble-lines.js";
import {
  type Look,
  type ProtocolKey,
  protocolKeys,
  type SheetPreamble,
  type Span,
  type StatedTemperature,
} from "./sheet.js";
import { refuseSheet } from "./sheet-error.js";
import type { Frame } from "./surface.js";

/** What the reader states in code where the sheet does not. */
export interface StatedInCode {
  readonly gauge?: Gauge;
  readonly frame?: Frame;
}

/** Reads the preamble of a sheet: frame and gauge are needed, the rest is kept where it is said. */
export function readPreamble(lines: PreambleLines, stated: StatedInCode): SheetPreamble {
  const title = lines.takeText("title");
  const date = readDate(lines);
  const frame = readFrame(lines, stated.frame);
  const gauge = mergeGauge(lines, stated.gauge);
  const oneZero = readZeroed(lines);
  const x = readSpan(lines, "travel x");
  const y = readSpan(lines, "travel y");
  const protocol: { [K in ProtocolKey]?: string } = {};
  for (const key of protocolKeys) {
    const said = lines.takeText(key);
    if (said !== undefined) protocol[key] = said;
  }
  return {
    ...(title === undefined ? {} : { title }),
    ...(date === undefined ? {} : { date }),
    frame,
    gauge,
    oneZero,
    protocol,
    temperatures: lines.keysFrom("temperature").map((key) => readTemperature(lines, key)),
    travel: { ...(x ? { x } : {}), ...(y ? { y } : {}) },
    looked: lines.keysFrom("looked at").map((key) => readLook(lines, key)),
    notes: lines.notes,
    removed: lines.removed,
    other: lines.left(),
  };
}

function readLook(lines: PreambleLines, key: string): Look {
  const { value, line, written } = lines.take(key)!;
  const place = written.replace(/^looked[\s_]+at/i, "").trim();
  if (place !== "") return { place, found: value };
  return refuseSheet(
    "looked-line",
    { name: lines.name, line },
    `"# ${written}: ${value}" does not say where; write "# looked at C4: a ding, felt with a fingernail"`,
  );
}

function readDate(lines: PreambleLines): string | undefined {
  const found = lines.take("date");
  if (!found || /^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/.test(found.value)) return found?.value;
  return refuseSheet(
    "date",
    { name: lines.name, line: found.line },
    `"# date: ${found.value}" can be read two ways or not at all; write year-month-day, like 2026-10-17`,
  );
}

function readZeroed(lines: PreambleLines): boolean {
  const found = lines.take("zeroed");
  if (!found || found.value === "once") return true;
  if (found.value === "at each pass") return false;
  return refuseSheet(
    "zeroed",
    { name: lines.name, line: found.line },
    `"# zeroed: ${found.value}" is not known; write "once" or "at each pass"`,
  );
}

function readSpan(lines: PreambleLines, key: string): Span | undefined {
  const found = lines.take(key);
  if (!found) return undefined;
  const [, from, to] = /^(.+?)\s+to\s+(.+)$/.exec(found.value) ?? [];
  const last = to === undefined ? undefined : quantityOf(lines, key, { value: to, line: found.line }, "length");
  const first =
    from === undefined ? undefined : quantityOf(lines, key, { value: firstEnd(from, to!), line: found.line }, "length");
  if (first && last?.isGreater(first)) return { fromMm: first.in("mm"), toMm: last.in("mm") };
  return refuseSheet(
    "span",
    { name: lines.name, line: found.line },
    `"# ${key}: ${found.value}" is not a span; write the least and the greatest position, like "0 to 520 mm"`,
  );
}

/** the first end of "0 to 520 mm" has the unit of the last where it has none of its own */
function firstEnd(first: string, last: string): string {
  return /\d$/.test(first) ? `${first} ${/[a-zA-Zµμ"]+$/.exec(last)?.[0] ?? ""}` : first;
}

function readTemperature(lines: PreambleLines, key: string): StatedTemperature {
  const { value: text, line } = lines.take(key)!;
  const [low, high] = text
    .split(/\s+to\s+/, 2)
    .map((part) => quantityOf(lines, key, { value: part, line }, "temperature"));
  return { where: key.slice("temperature".length).trim(), low: low!, high: high ?? low!, text };
}
