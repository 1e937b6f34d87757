import { parseDecimal } from "../src/quantity/parse.js";
import { cornerUnits, isGridCorner, letters } from "../src/survey/grid-sheet.js";
import { lengthUnit } from "../src/survey/headings.js";
import { type LengthUnit, micrometres } from "../src/survey/sheet.js";
import { refuseSheet, shown } from "../src/survey/sheet-error.js";
import type { SheetText } from "../src/survey/sheet-text.js";
import type { FoundPlaces, Spot } from "./sheet-model.js";

/** The readings of a grid as it stands on paper: x across the top, y down the side, one block a pass. */
export function gridPlaces(text: SheetText, zLine: string | undefined): FoundPlaces {
  const corner = cornerUnits(text.heading[0]!);
  const [x, y, z] = [corner.x, corner.y, corner.z ?? zLine].map((given) => unitOf(text, given));
  const spots: Spot[] = [];
  const passes = new Set<number>();
  const first = text.head.find(({ key }) => key === "pass")?.value;
  let stated = first === undefined ? undefined : Number(first);
  const start = () => {
    passes.add(stated ?? passes.size + 1);
    stated = undefined;
    return [...passes].at(-1)!;
  };
  let [pass, across, down] = [start(), text.heading, 0];
  for (let row = 0; row < text.rows; row++) {
    const cells = text.row(row);
    const said = /^#\s*pass\s*:\s*(\d+)$/.exec(cells[0]!);
    if (said) stated = Number(said[1]);
    else if (isGridCorner(cells[0])) [pass, across, down] = [start(), cells, 0];
    else {
      down++;
      spots.push(...lineSpots({ text, row, cells, across, down, pass, x: x!, y: y! }));
    }
  }
  return {
    units: { x: x!, y: y!, z: z!, time: "clock", temperature: "degC" },
    side: {},
    spots,
    hasOrder: false,
    numbers: spots.map((spot) => text.row(spot.row)[spot.column] ?? ""),
  };
}

interface GridLine {
  readonly text: SheetText;
  readonly row: number;
  readonly cells: readonly string[];
  readonly across: readonly string[];
  readonly down: number;
  readonly pass: number;
  readonly x: LengthUnit;
  readonly y: LengthUnit;
}

function lineSpots({ text, row, cells, across, down, pass, x, y }: GridLine): Spot[] {
  const yText = cells[0]!;
  const yHere = parseDecimal(yText);
  if (yHere === undefined) {
    refuseSheet(
      "blank",
      { name: text.name, line: text.line(row) },
      `${shown(yText)} is no y; write where the line stands`,
    );
  }
  return across.slice(1).flatMap((xText, i) => {
    const xHere = parseDecimal(xText);
    if (xHere === undefined) return [];
    const place = `${letters(i)}${down}`;
    return {
      key: JSON.stringify([place, pass, 1]),
      place,
      pass,
      row,
      column: i + 1,
      xMm: (xHere * micrometres[x]) / 1000,
      yMm: (yHere * micrometres[y]) / 1000,
      where: `x ${xText} ${x}, y ${yText} ${y}`,
      order: undefined,
    };
  });
}

function unitOf(text: SheetText, given: string | undefined): LengthUnit {
  const unit = given === undefined ? undefined : lengthUnit(given);
  if (unit !== undefined) return unit;
  return refuseSheet(
    "heading-unit",
    { name: text.name, line: text.headingLine },
    `the corner ${shown(text.heading[0]!)} does not say every unit; write y/mm \\ x/mm z/um`,
  );
}
