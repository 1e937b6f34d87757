import { MeasurementError } from "../src/measurement-error.js";
import { parseDecimal } from "../src/quantity/parse.js";
import { type Headings, readHeadings } from "../src/survey/headings.js";
import { micrometres } from "../src/survey/sheet.js";
import { refuseSheet, shown } from "../src/survey/sheet-error.js";
import type { SheetText } from "../src/survey/sheet-text.js";
import type { FoundPlaces, Spot } from "./sheet-model.js";

/** The readings of a long sheet, one a row. */
export function longPlaces(text: SheetText): FoundPlaces {
  const headings = headingsOf(text);
  const { at, units } = headings;
  const seen = new Map<string, number>();
  const spots: Spot[] = [];
  for (let row = 0; row < text.rows; row++) {
    const cells = text.row(row);
    const cell = (column: keyof Headings["at"]) => (at[column] === undefined ? "" : (cells[at[column]] ?? ""));
    const spot = { name: text.name, line: text.rows < 1000 ? text.line(row) : row };
    const place = cell("place");
    if (place === "" || place.startsWith("#")) {
      refuseSheet("blank", spot, `${shown(place)} is no name of a place; write one, like C4, or datum 1 for a return`);
    }
    const pass = parseDecimal(cell("pass"));
    if (pass === undefined || !Number.isInteger(pass) || pass < 1) {
      refuseSheet("pass", spot, `${shown(cell("pass"))} is not a pass; write 1 for the first pass, 2 for the second`);
    }
    const name = JSON.stringify([place, pass]);
    const nth = (seen.get(name) ?? 0) + 1;
    seen.set(name, nth);
    const [x, y] = [parseDecimal(cell("x")), parseDecimal(cell("y"))];
    spots.push({
      key: JSON.stringify([place, pass, nth]),
      place,
      pass,
      row,
      column: at.z!,
      xMm: x === undefined ? undefined : (x * micrometres[units.x]) / 1000,
      yMm: y === undefined ? undefined : (y * micrometres[units.y]) / 1000,
      where: x === undefined ? "" : `x ${cell("x")} ${units.x}, y ${cell("y")} ${units.y}`,
      order: parseDecimal(cell("order")),
    });
  }
  if (spots.length === 0) {
    refuseSheet("empty-sheet", { name: text.name }, "no place follows the heading; write a row for each reading");
  }
  return {
    units,
    side: {
      ...(at.time === undefined ? {} : { time: at.time }),
      ...(at.temperature === undefined ? {} : { temperature: at.temperature }),
      ...(at.note === undefined ? {} : { note: at.note }),
    },
    spots,
    hasOrder: at.order !== undefined,
    numbers: numbersOf(text, headings),
  };
}

function* numbersOf(text: SheetText, { at }: Headings): Iterable<string> {
  for (let row = 0; row < text.rows; row++) {
    const cells = text.row(row);
    for (const column of ["x", "y", "z", "temperature"] as const) {
      if (at[column] !== undefined) yield cells[at[column]] ?? "";
    }
  }
}

/** sheets that lie in the same folder and that this page does not take, by a column of theirs */
const others: readonly (readonly [column: string, what: string])[] = [["line", "of levels"]];

function headingsOf(text: SheetText): Headings {
  const cells = text.heading;
  const columns = cells.map((cell) => cell.split("/")[0]!.trim().toLowerCase());
  const other = others.find(([column]) => columns.includes(column));
  const isSurvey = columns.includes("place") && columns.includes("z");
  if (!isSurvey && (other !== undefined || columns.includes("time"))) {
    throw new MeasurementError(
      "no-survey",
      `${text.name}: its heading ${shown(cells.join(","))} is that of a sheet ${other?.[1] ?? "of readings over time"}, and this page takes one gauge reading a row; fill it in with a spreadsheet or an editor, and open the notebook that reads it`,
    );
  }
  return readHeadings({ line: text.headingLine, cells }, text.name, undefined);
}
