import { parseDecimal } from "../src/quantity/parse.js";
import { lengthUnit } from "../src/survey/headings.js";
import { refuseSheet, shown } from "../src/survey/sheet-error.js";
import type { SheetText } from "../src/survey/sheet-text.js";
import type { FoundPlaces, Spot } from "./sheet-model.js";

/** A sheet other than that of a survey: which columns it is known by, and how its rows are called. */
interface RowKind {
  /** a column that it has and a survey has not */
  readonly column: string;
  readonly what: string;
  /** columns that may take the reading */
  readonly readings: readonly string[];
  /** a row as the person knows it */
  readonly place: (row: Row) => string;
  /** what the readings of one round are called, and its number */
  readonly group?: (row: Row) => readonly [word: string, number: number];
}

interface Row {
  /** cell of a column, blank where there is none */
  readonly cell: (column: string) => string;
  /** unit of a column as it is written */
  readonly unit: (column: string) => string;
  /** from 1 */
  readonly no: number;
}

const counted = (word: string, text: string): readonly [string, number] => [word, Number(text) || 1];
const arrow = (direction: string) => (direction.toLowerCase() === "down" ? "▼" : "▲");

const kinds: readonly RowKind[] = [
  {
    column: "target",
    what: "positioning test",
    readings: ["deviation", "position"],
    place: ({ cell, unit }) => `${cell("target")} ${unit("target")} ${arrow(cell("direction"))}`,
    group: ({ cell }) => counted("run", cell("run")),
  },
  {
    column: "commanded",
    what: "small moves",
    readings: ["reading"],
    place: ({ cell, unit, no }) => `no. ${no}, ${cell("commanded")} ${unit("commanded")}`,
  },
  {
    column: "angle",
    what: "sweep of the spindle",
    readings: ["reading"],
    place: ({ cell }) => `${cell("angle")}°`,
    group: ({ cell }) => counted("turn", cell("turn")),
  },
  {
    column: "leg",
    what: "square",
    readings: ["reading"],
    place: ({ cell, unit }) => `${cell("leg")} leg, ${cell("at")} ${unit("at")}`,
    group: ({ cell }) => (cell("way").toLowerCase() === "turned over" ? ["turned over", 2] : ["as laid", 1]),
  },
  {
    column: "value",
    what: "trial of a gauge",
    readings: ["value"],
    place: ({ cell }) =>
      [cell("place") || cell("part"), cell("day") || cell("set-up") || cell("operator")].filter(Boolean).join(", "),
    group: ({ cell }) => counted("round", cell("repeat")),
  },
];

/** The readings of a sheet that is not one of a survey, one a row in the order of the sheet; nothing for other sheets. */
export function rowPlaces(text: SheetText): FoundPlaces | undefined {
  const headings = text.heading.map((written) => {
    const [word = "", ...unit] = written.split("/").map((part) => part.trim());
    return { word: word.toLowerCase(), unit: unit.join("/") };
  });
  const at = (word: string) => headings.findIndex((heading) => heading.word === word);
  const kind = kinds.find(({ column }) => at(column) >= 0);
  if (kind === undefined) return undefined;
  const column = kind.readings.map(at).find((found) => found >= 0) ?? -1;
  const z = column < 0 ? undefined : lengthUnit(headings[column]!.unit);
  if (z === undefined) {
    refuseSheet(
      "heading",
      { name: text.name },
      `the heading ${shown(text.heading.join(","))} of a ${kind.what} has no column of readings with a unit of length; write ${kind.readings[0]}/um`,
    );
  }
  const seen = new Map<string, number>();
  const spots = Array.from({ length: text.rows }, (_, row): Spot => {
    const cells = text.row(row);
    const one: Row = {
      cell: (word) => cells[at(word)] ?? "",
      unit: (word) => (headings[at(word)]?.unit ?? "").replace(/^um$/, "µm"),
      no: row + 1,
    };
    const place = kind.place(one);
    const [word, pass] = kind.group?.(one) ?? ["", 1];
    const group = word === "" || word.includes(" ") ? word : `${word} ${pass}`;
    const name = JSON.stringify([place, group]);
    const nth = (seen.get(name) ?? 0) + 1;
    seen.set(name, nth);
    const order = parseDecimal(one.cell("order"));
    return {
      key: JSON.stringify([place, pass, nth, group]),
      place,
      pass,
      row,
      column,
      xMm: undefined,
      yMm: undefined,
      where: "",
      order,
    };
  });
  if (spots.length === 0) {
    refuseSheet("empty-sheet", { name: text.name }, "no row follows the heading; write a row for each reading");
  }
  const side = Object.fromEntries(
    ["time", "temperature", "note"].map((word) => [word, at(word)]).filter(([, found]) => (found as number) >= 0),
  );
  return {
    units: {
      x: "mm",
      y: "mm",
      z,
      time: timeUnit(headings[at("time")]?.unit),
      temperature: degree(headings[at("temperature")]?.unit),
    },
    side,
    spots,
    hasOrder: at("order") >= 0,
    numbers: numbersOf(text),
  };
}

function timeUnit(unit: string | undefined): FoundPlaces["units"]["time"] {
  return unit === "s" || unit === "min" || unit === "h" ? unit : "clock";
}

function degree(unit: string | undefined): FoundPlaces["units"]["temperature"] {
  return unit === "degF" || unit === "K" ? unit : "degC";
}

function* numbersOf(text: SheetText): Iterable<string> {
  for (let row = 0; row < text.rows; row++) yield* text.row(row);
}
