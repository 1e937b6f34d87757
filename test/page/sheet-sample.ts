import { modelOf, type SheetModel } from "../../kernel-lib/page/sheet-model.js";
import { SheetText } from "../../kernel-lib/src/survey/sheet-text.js";

/** A small sheet of Tinmoor Lane, invented: 3 × 2 places, two passes, a return to one datum before, between and after. */
export const sampleLines = [
  "# title: corner of the bed mill, invented",
  "# date: 2026-11-28",
  "# relative to: travel",
  "# front: y-",
  "# +x: right",
  "# +y: back",
  "# gauge resolution: 2 µm",
  "# gauge display: analogue",
  "# gauge fraction estimated: 0.5",
  "# gauge maximum permissible error: 4 µm",
  "# gauge range: 1 mm",
  "# gauge range per turn: 0.2 mm",
  "# vice:",
  "# slot 1: along x, y 20 mm to 34 mm",
  "# hole 1: x 30 mm, y 45 mm, diameter 6 mm",
];

export const sampleHeading = "place,x/mm,y/mm,z/um,pass,order,time,temperature/degC,note";

export const sampleRows = [
  ...datum(1, 1),
  "A1,0,0,,1,3,,,",
  "A2,40,0,,1,4,,,",
  "A3,80,0,,1,5,,,",
  "B3,80,50,,1,6,,,",
  "B2,40,50,,1,7,,,",
  "B1,0,50,,1,8,,,",
  ...datum(1, 9),
  "B1,0,50,,2,11,,,",
  "B2,40,50,,2,12,,,",
  "B3,80,50,,2,13,,,",
  "A3,80,0,,2,14,,,",
  "A2,40,0,,2,15,,,",
  "A1,0,0,,2,16,,,",
  ...datum(2, 17),
];

function datum(pass: number, order: number): string[] {
  return [order, order + 1].map((n) => `datum 1,40,25,,${pass},${n},,,`);
}

export function sampleText(rows: readonly string[] = sampleRows, lines: readonly string[] = sampleLines): string {
  return `${[...lines, sampleHeading, ...rows].join("\n")}\n`;
}

export function sample(text = sampleText(), name = "corner.csv"): SheetModel {
  return modelOf(SheetText.of(text, name));
}

/** the sample with these readings in the order of typing */
export function filled(readings: readonly (number | string | undefined)[]): SheetModel {
  const model = sample();
  const edits = readings.flatMap((z, i) =>
    z === undefined ? [] : { row: model.spots[i]!.row, column: model.spots[i]!.column, to: String(z) },
  );
  return modelOf(model.text.edited(edits));
}
