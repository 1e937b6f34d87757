import { rowsWhere } from "./columns.js";
import { numbersFor } from "./fill.js";
import type { Checked, Finding } from "./finding.js";
import { isMirrored } from "./preamble-frame.js";
import { isDatum, micrometres, protocolKeys } from "./sheet.js";
import { unitOfSteps } from "./slip-gauge.js";

/** Spans of x, y and z that a milling machine does not have: the unit in the heading is asked about. */
export function checkUnits({ sheet, table }: Checked): readonly Finding[] {
  const spans = [
    { name: "x", unit: sheet.units.x, spanMm: spanOf(table.x), least: 2, most: 3000 },
    { name: "y", unit: sheet.units.y, spanMm: spanOf(table.y), least: 2, most: 3000 },
    { name: "z", unit: sheet.units.z, spanMm: spanOf(table.z) / 1000, least: 0, most: 5 },
  ];
  return spans
    .filter(({ spanMm, least, most }) => spanMm > most || (spanMm > 0 && spanMm < least))
    .map(({ name, unit, spanMm }) => ({
      check: "units",
      severity: "stop",
      what: `${name} spans ${Number(spanMm.toPrecision(3))} mm when read in ${unit}`,
      places: [],
      howSure: "no milling machine table looks like that",
      whatToDo: `ask whether column ${name} is in ${unit}; correct the heading on a copy of the sheet`,
    }));
}

/** Readings that the gauge cannot give: beyond its range, or finer than its steps. */
export function checkGauge({ sheet, raw }: Checked): readonly Finding[] {
  const { gauge, frame } = sheet.preamble;
  const found: Finding[] = [];
  const range = gauge.range?.in("um");
  const { columns } = sheet;
  const read = rowsWhere(columns, (i) => !Number.isNaN(columns.z[i]));
  const all = numbersFor(read, (i) => columns.z[i]! * micrometres[sheet.units.z]);
  const span = spanOf(all);
  if (range !== undefined && span > range * (1 + 1e-9)) {
    found.push({
      check: "range",
      severity: "stop",
      what: `readings span ${Number(span.toPrecision(4))} µm and the gauge has a range of ${Number(range.toPrecision(4))} µm`,
      places: [],
      howSure: "certain",
      whatToDo: "look for a gauge set anew on the way, a wrong unit of z or a slip of the pen",
    });
  }
  const step =
    gauge.display === "analogue"
      ? gauge.resolution.in("um") * (gauge.fractionEstimated ?? 1)
      : gauge.resolution.in("um");
  const isFiner = (z: number) => Math.abs(z / step - Math.round(z / step)) > 1e-6 * Math.max(1, Math.abs(z / step));
  const finer = all.filter(isFiner);
  if (finer.length > 0) {
    const other = unitOfSteps(all, sheet.units.z, step);
    const some = finer.length < all.length / 2;
    found.push({
      check: "steps",
      severity: other ? "stop" : "check",
      what: `${finer.length} of ${all.length} readings are no whole number of steps of ${Number(step.toPrecision(4))} µm, such as ${String(finer[0]).replace("-", "−")} µm`,
      places: [],
      howSure: "certain",
      whatToDo: other
        ? `ask whether column z is in ${other}: read so, they are whole steps; correct the heading on a copy of the sheet`
        : some
          ? "ask whether these were read with another gauge or typed in another unit; if so, give them a sheet of their own"
          : "check the resolution of the gauge, or the part of a division that is estimated",
    });
  }
  if (isMirrored(frame)) {
    found.push({
      check: "frame",
      severity: "note",
      what: `+X ${frame.plusX} with +Y ${frame.plusY} is the mirror image of the usual axes`,
      places: [],
      howSure: "counting the motion of the table instead of the tool does that (ISO 841)",
      whatToDo: "check +x and +y on the sheet against the machine",
    });
  }
  if (!raw.when && raw.datum.z.length > 0) {
    found.push({
      check: "order",
      severity: "check",
      what: "the sheet has datum returns and does not say in which order it was read",
      places: [],
      howSure: "certain",
      whatToDo: "add a column order with a number for each reading",
    });
  }
  return found;
}

/** Two names for one spot. */
export function checkSpots({ table }: Checked): readonly Finding[] {
  const at = new Map<string, string[]>();
  table.labels.forEach((label, i) => {
    const spot = `x ${table.x[i]} mm, y ${table.y[i]} mm`;
    at.set(spot, [...(at.get(spot) ?? []), label]);
  });
  return [...at]
    .filter(([, labels]) => labels.length > 1)
    .map(([spot, labels]) => ({
      check: "duplicates",
      severity: "check",
      what: `${labels.join(" and ")} stand at the same spot, ${spot}`,
      places: labels,
      howSure: "certain",
      whatToDo: "give them one name if they are one place, or correct x and y",
    }));
}

/** Places that the travel stated on the sheet does not reach. */
export function checkTravel({ sheet, table }: Checked): readonly Finding[] {
  const { travel } = sheet.preamble;
  const outside = (values: Float64Array, span: { fromMm: number; toMm: number } | undefined, i: number) =>
    span !== undefined && !(values[i]! >= span.fromMm && values[i]! <= span.toMm);
  const places = table.labels.filter((_, i) => outside(table.x, travel.x, i) || outside(table.y, travel.y, i));
  if (places.length === 0) return [];
  return [
    {
      check: "travel",
      severity: "stop",
      what: `${named(places)}: outside the travel stated on the sheet`,
      places,
      howSure: "certain",
      whatToDo: "correct x and y, or the lines travel x and travel y",
    },
  ];
}

/** Cells left blank: not probed, and not zero. */
export function checkBlanks({ sheet }: Checked): readonly Finding[] {
  const { columns } = sheet;
  const rows = [...rowsWhere(columns, (i) => Number.isNaN(columns.z[i]))];
  const blank = rows.map((i) => columns.labels[columns.place[i]!]!);
  if (blank.length === 0) return [];
  if (blank.length === columns.count) {
    return [
      {
        check: "blanks",
        severity: "check",
        what: `nothing is read yet: ${blank.length} cells wait for a reading`,
        places: [],
        howSure: "certain",
        whatToDo: "type the readings in; leave a cell blank where a place can't be probed",
      },
    ];
  }
  const names = [...new Set(blank.map((place, k) => `${place} pass ${columns.pass[rows[k]!]}`))];
  return [
    {
      check: "blanks",
      severity: blank.some((place) => !isDatum(place)) ? "check" : "note",
      what: `${blank.length === 1 ? "1 cell is" : `${blank.length} cells are`} blank, not probed: ${named(names)}`,
      places: [...new Set(blank)],
      howSure: "certain",
      whatToDo: "probe them, or go on without: nothing is filled in for them",
    },
  ];
}

/** What the sheet does not say of how it was taken. */
export function checkProtocol({ sheet }: Checked): readonly Finding[] {
  const missing: string[] = protocolKeys.filter((key) => sheet.preamble.protocol[key] === undefined);
  if (sheet.preamble.temperatures.length === 0 && sheet.columns.temperature === undefined) {
    missing.push("temperature");
  }
  if (missing.length === 0) return [];
  return [
    {
      check: "protocol",
      severity: "note",
      what: `the sheet does not say: ${missing.join(", ")}`,
      places: [],
      howSure: "certain",
      whatToDo: 'write what is known above the heading, like "# spindle: locked, not turned"',
    },
  ];
}

/** up to five culprits by name, more are counted */
export function named(names: readonly string[]): string {
  return names.length <= 5 ? names.join(", ") : `${names.slice(0, 5).join(", ")} and ${names.length - 5} more`;
}

function spanOf(values: ArrayLike<number>): number {
  let low = Number.POSITIVE_INFINITY;
  let high = Number.NEGATIVE_INFINITY;
  for (let i = 0; i < values.length; i++) {
    low = Math.min(low, values[i]!);
    high = Math.max(high, values[i]!);
  }
  return high > low ? high - low : 0;
}
