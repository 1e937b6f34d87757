import type { LengthUnit, TemperatureUnit, TimeUnit } from "./sheet.js";
import { refuseSheet, shown } from "./sheet-error.js";

/** A foreign heading and the unit that its column is in. */
export interface ForeignColumn<U extends string> {
  readonly heading: string;
  readonly unit: U;
}

/** Which column of a foreign sheet is which, as its reader knows it. Columns that hold nothing of a survey are listed
 * under `ignore`, so that none is left out in silence. */
export interface ColumnMap {
  readonly place: string;
  readonly x: ForeignColumn<LengthUnit>;
  readonly y: ForeignColumn<LengthUnit>;
  readonly z: ForeignColumn<LengthUnit>;
  /** the heading of the column, or 1 where the sheet holds one pass and does not say so */
  readonly pass: string | 1;
  readonly order?: string;
  readonly time?: ForeignColumn<TimeUnit>;
  readonly temperature?: ForeignColumn<TemperatureUnit>;
  readonly approach?: string;
  readonly note?: string;
  readonly ignore?: readonly string[];
}

/** The foreign headings put into our own words; undefined for a column that is to be ignored. */
export function foreignHeadings(
  written: readonly string[],
  line: number,
  name: string,
  map: ColumnMap,
): (string | undefined)[] {
  const ours = new Map<string, string | undefined>((map.ignore ?? []).map((heading) => [heading.trim(), undefined]));
  for (const [column, meant] of Object.entries(map)) {
    if (column === "ignore" || typeof meant === "number") continue;
    const heading = (typeof meant === "string" ? meant : (meant as ForeignColumn<string>).heading).trim();
    if (!written.includes(heading)) {
      refuseSheet(
        "column-map",
        { name, line },
        `columns.${column} names the heading ${shown(heading)}, which is not there; the sheet has ${written.map(shown).join(", ")}`,
      );
    }
    const unit = typeof meant === "string" ? "" : `/${(meant as ForeignColumn<string>).unit}`;
    ours.set(heading, column + (unit === "/clock" ? "" : unit));
  }
  return written.map((heading, i) => {
    if (ours.has(heading)) return ours.get(heading);
    return refuseSheet(
      "column-map",
      { name, line, column: String(i + 1) },
      `the heading ${shown(heading)} is in no entry of columns; say what it is, or list it: ignore: [${JSON.stringify(heading)}]`,
    );
  });
}

/** The piece of code that reads a sheet with these headings, to be filled in by its reader. */
export function lineToWrite(written: readonly string[]): string {
  const [place = "Point", x = "X", y = "Y", z = "Z"] = written.map((heading) => heading.slice(0, 20));
  const length = (heading: string, unit: string) => `{ heading: ${JSON.stringify(heading)}, unit: "${unit}" }`;
  return `{ columns: { place: ${JSON.stringify(place)}, x: ${length(x, "mm")}, y: ${length(y, "mm")}, z: ${length(z, "um")}, pass: 1 } }`;
}
