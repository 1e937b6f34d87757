import { mm, type Slope, umPerM } from "../quantity/index.js";
import { parseDecimal } from "../quantity/parse.js";
import type { CellRow } from "../survey/cells.js";
import type { HeadedSheet } from "../survey/headed-sheet.js";
import { refuseSheet, shown } from "../survey/sheet-error.js";
import type { LevelPlace, LevelReading } from "./level-reading.js";
import { placeName } from "./level-runs.js";

/** Places and readings of a sheet that names the places under both feet, in any layout. */
export function readingsOfPlaces(
  sheet: HeadedSheet,
  unit: Slope,
): { readonly places: readonly LevelPlace[]; readonly readings: readonly LevelReading[] } {
  const places = sheet.lines.keysFrom("place").map((key) => placeOf(sheet, key));
  const readings = sheet.rows.map((row): LevelReading => {
    const [from, to] = [known(sheet, row, "from", places), known(sheet, row, "to", places)];
    if (from === to) {
      refuseSheet(
        "place",
        { name: sheet.name, line: row.line, column: "to" },
        `both feet stand on ${placeName(from.label)}; write the places under the two feet`,
      );
    }
    return {
      line: sheet.text(row, "line") || "all",
      from: from.label,
      to: to.label,
      inclination: umPerM(sheet.number(row, "reading") * unit.in("um/m")),
      // a level that stands on two places has its feet that far apart
      foot: mm(Math.hypot(to.xMm - from.xMm, to.yMm - from.yMm)),
    };
  });
  return { places, readings };
}

function placeOf({ name, lines }: HeadedSheet, key: string): LevelPlace {
  const { value, line, written } = lines.take(key)!;
  const label = written.slice("place".length).trim();
  const [x, y] = (/^(\S+), *(\S+?)(?: *mm)?$/.exec(value)?.slice(1) ?? []).map(parseDecimal);
  if (label !== "" && x !== undefined && y !== undefined) return { label, xMm: x, yMm: y };
  return refuseSheet(
    "place",
    { name, line },
    `"# ${written}: ${value}" is no place; write "# place A1: 0, 0", x and y in mm`,
  );
}

function known(sheet: HeadedSheet, row: CellRow, column: "from" | "to", places: readonly LevelPlace[]): LevelPlace {
  const label = sheet.text(row, column);
  const found = places.find((place) => place.label === label);
  if (found !== undefined) return found;
  return refuseSheet(
    "place",
    { name: sheet.name, line: row.line, column },
    label === ""
      ? "is blank; write the place under that foot"
      : `${shown(label)} is no place of the sheet; write "# place ${label}: 0, 0" above the heading, x and y in mm`,
  );
}
