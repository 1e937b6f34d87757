import { rowsWhere } from "./columns.js";
import type { Checked, Finding } from "./finding.js";
import { named } from "./health-sheet.js";
import { passesOf } from "./height-table.js";
import { isDatum, type Sheet } from "./sheet.js";

/** up to this share of a pass may have been forgotten; beyond it the pass was meant to be part of the table only */
const forgotten = 0.2;

/** The rows of a sheet, blank or not, datums left out. */
interface Rows {
  readonly passes: readonly number[];
  /** the first row of each place */
  readonly first: ReadonlyMap<number, number>;
  /** for each place of the sheet and each pass whether there is a row */
  readonly has: Uint8Array;
}

/** Rows that a sheet of the others would have and this one has not: lost on the way, or never written. */
export function checkRows({ sheet, table }: Checked): readonly Finding[] {
  if (table.z.length === 0) return [];
  const rows = rowsOf(sheet);
  return [...missingPasses(sheet, rows), ...missingPlaces(sheet, rows)];
}

/** places that some pass has no row for */
function missingPasses({ columns }: Sheet, { passes, first, has }: Rows): readonly Finding[] {
  const places = [...first.keys()];
  const lost = passes.flatMap((pass, k) => {
    const without = places.filter((place) => has[place * passes.length + k] === 0);
    if (without.length > forgotten * places.length) return [];
    return without.map((place) => ({ label: columns.labels[place]!, pass }));
  });
  if (lost.length === 0) return [];
  const count = lost.length === 1 ? "1 row is" : `${lost.length} rows are`;
  return [
    {
      check: "rows",
      severity: "check",
      what: `${count} missing: ${named(lost.map(({ label, pass }) => `${label} pass ${pass}`))}`,
      places: [...new Set(lost.map(({ label }) => label))],
      howSure: "certain: other passes have them",
      whatToDo: "write the rows in, or leave their height blank where nothing was read",
    },
  ];
}

/** places of a whole grid that have no row at all */
function missingPlaces({ columns, units }: Sheet, { first }: Rows): readonly Finding[] {
  const at = (axis: "x" | "y") => Array.from(first.values(), (row) => columns[axis][row]!);
  const [x, y] = [at("x"), at("y")];
  const [across, along] = [[...new Set(x)], [...new Set(y)]];
  const whole = across.length * along.length;
  // a scatter of places is no grid, and its rows and columns would be many more than its places
  if (across.length < 3 || along.length < 3 || whole - x.length > forgotten * whole) return [];
  const there = new Set(x.map((value, i) => `${value} ${y[i]}`));
  const lost = across.flatMap((one) =>
    along.flatMap((other) => (there.has(`${one} ${other}`) ? [] : [`x ${one} ${units.x}, y ${other} ${units.y}`])),
  );
  if (lost.length === 0) return [];
  return [
    {
      check: "rows",
      severity: "note",
      what: `the grid of the others has no place at ${named(lost)}`,
      places: [],
      howSure: "certain",
      whatToDo: "right where a hole or a clamp is; else probe there too",
    },
  ];
}

function rowsOf({ columns }: Sheet): Rows {
  const datum = columns.labels.map(isDatum);
  const rows = rowsWhere(columns, (row) => !datum[columns.place[row]!]);
  const passes = passesOf(Array.from(rows, (row) => columns.pass[row]!));
  const numberOf = new Map(passes.map((pass, k) => [pass, k]));
  const first = new Map<number, number>();
  const has = new Uint8Array(columns.labels.length * passes.length);
  for (const row of rows) {
    const place = columns.place[row]!;
    if (!first.has(place)) first.set(place, row);
    has[place * passes.length + numberOf.get(columns.pass[row]!)!] = 1;
  }
  return { passes, first, has };
}
