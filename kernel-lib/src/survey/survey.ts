import { MeasurementError } from "../measurement-error.js";
import { display, type Kind, type Length, type MimeBundle, Quantity, type UnitNames } from "../quantity/index.js";
import { toSi, type Unit, units } from "../quantity/kinds.js";
import type { Gauge } from "./gauge.js";
import { Health } from "./health.js";
import { needRemovable, type ParseOptions, parseSheet } from "./parse-sheet.js";
import type { Blank, Place, Reading } from "./reading.js";
import { isDatum, type Protocol, type Removal, type Sheet, type SheetRow, type StatedTemperature } from "./sheet.js";
import type { Frame, Surface } from "./surface.js";
import { surfaceOf } from "./survey-surface.js";
import { writeSheet } from "./write-sheet.js";

/** The file a survey came from. */
export interface SheetFile {
  /** name of the file, without its folder */
  readonly name: string;
  readonly sha256: string;
  /** "open", "closed on 2026-10-17", "changed since it was closed on 2026-10-17" */
  readonly state: string;
}

/**
 * The readings of one survey as they stand on its sheet, with what the sheet says about how they were taken.
 *
 * Never changed: `withoutReading` and `flipped` give a new survey.
 */
export class Survey {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  private constructor(
    private readonly sheet: Sheet,
    /** missing where the text was pasted */
    readonly file: SheetFile | undefined,
  ) {}

  /** A survey from a sheet that has been read; `parseSurvey` and `readSurvey` are the usual ways in. */
  static fromSheet(sheet: Sheet, file?: SheetFile): Survey {
    return new Survey(sheet, file);
  }

  get name(): string {
    return this.sheet.name;
  }
  get title(): string | undefined {
    return this.sheet.preamble.title;
  }
  get date(): string | undefined {
    return this.sheet.preamble.date;
  }
  get frame(): Frame {
    return this.sheet.preamble.frame;
  }
  get gauge(): Gauge {
    return this.sheet.preamble.gauge;
  }
  /** how the readings were taken, as far as the sheet says */
  get protocol(): Protocol {
    return this.sheet.preamble.protocol;
  }
  get temperatures(): readonly StatedTemperature[] {
    return this.sheet.preamble.temperatures;
  }
  /** further lines `# key: value` of the sheet, such as machine and workshop */
  get otherLines(): readonly (readonly [key: string, value: string])[] {
    return this.sheet.preamble.other;
  }
  get notes(): readonly string[] {
    return this.sheet.preamble.notes;
  }
  /** readings set aside in code, with the reason */
  get removed(): readonly Removal[] {
    return this.sheet.preamble.removed;
  }
  get passes(): readonly number[] {
    return [...new Set(this.sheet.rows.map((row) => row.pass))].sort((a, b) => a - b);
  }
  /** places of the map, probed or blank, in the order of the sheet */
  get places(): readonly Place[] {
    const found = new Map<string, Place>();
    for (const row of this.sheet.rows) {
      if (isDatum(row.place) || found.has(row.place)) continue;
      found.set(row.place, { label: row.place, x: this.lengthOf(row.x!, "x"), y: this.lengthOf(row.y!, "y") });
    }
    return [...found.values()];
  }
  get datumReturns(): readonly Reading[] {
    return this.kept((row) => isDatum(row.place));
  }
  /** cells left blank: planned, not probed */
  get blanks(): readonly Blank[] {
    return this.sheet.rows.filter((row) => row.z === undefined).map(({ place, pass }) => ({ place, pass }));
  }

  /** Readings of the places, as they stand on the sheet; without the datum returns and those set aside. */
  readings(): readonly Reading[] {
    return this.kept((row) => !isDatum(row.place));
  }

  [Symbol.iterator](): Iterator<Reading> {
    return this.readings()[Symbol.iterator]();
  }

  /** What is wrong with the survey, where, and what to do about it. */
  health(): Health {
    return Health.of(this.sheet);
  }

  /**
   * The map: drift taken out where the datum returns show it, mean of the passes, sign and angles of the gauge put in.
   * @throws MeasurementError `no-reading` where every reading of a place is set aside or blank
   */
  surface(): Surface {
    if (this.readings().length === 0) {
      throw new MeasurementError(
        "no-reading",
        `${this.name}: no place has a reading left; put one back, or probe the places`,
      );
    }
    return surfaceOf(this.sheet, this.file?.state);
  }

  /**
   * The survey without the readings of one place in one pass. They stay on the sheet, marked as set aside.
   * @throws MeasurementError `no-such-reading`, `reason`
   */
  withoutReading(place: string, pass: number, reason: string): Survey {
    const why = reason.trim().replace(/\s+/g, " ");
    if (why === "") {
      throw new MeasurementError(
        "reason",
        `withoutReading: ${place}, pass ${pass} has no reason; say why it is set aside`,
      );
    }
    const removal = { place, pass, reason: why };
    needRemovable(this.sheet.rows, removal, this.name);
    if (this.removed.some((r) => r.place === place && r.pass === pass)) {
      throw new MeasurementError(
        "reason",
        `withoutReading: ${place}, pass ${pass} is set aside already; leave out the second time`,
      );
    }
    return this.with({ removed: [...this.removed, removal] });
  }

  /** The same readings with the sign the other way round: what stood for high stands for low. */
  flipped(): Survey {
    const { gauge } = this.sheet.preamble;
    return this.with({ gauge: Object.freeze({ ...gauge, sense: gauge.sense === "minus" ? "plus" : "minus" }) });
  }

  /** Text of the sheet in our long form; read again it gives the same survey. */
  toCsv(): string {
    return writeSheet(this.sheet);
  }

  toString(): string {
    const { relativeTo } = this.frame;
    const against = relativeTo === "artefact" ? "an artefact" : relativeTo;
    const aside = this.removed.length > 0 ? `, ${this.removed.length} set aside` : "";
    const state = this.file ? `, ${this.file.state === "open" ? "open sheet" : this.file.state}` : "";
    return `${this.name}: ${this.places.length} places against ${against}, ${this.readings().length} readings in ${this.passes.length === 1 ? "1 pass" : `${this.passes.length} passes`}, ${this.datumReturns.length} datum readings, ${this.blanks.length} blank${aside}${state}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  private with(changed: Partial<Sheet["preamble"]>): Survey {
    return new Survey({ ...this.sheet, preamble: { ...this.sheet.preamble, ...changed } }, this.file);
  }

  private kept(wanted: (row: SheetRow) => boolean): Reading[] {
    const aside = new Set(this.removed.map(({ place, pass }) => JSON.stringify([place, pass])));
    return this.sheet.rows
      .filter((row) => row.z !== undefined && wanted(row) && !aside.has(JSON.stringify([row.place, row.pass])))
      .map((row) => this.readingOf(row));
  }

  private readingOf(row: SheetRow): Reading {
    const { temperature, time, x, y, ...rest } = row;
    return {
      ...rest,
      ...(x === undefined ? {} : { x: this.lengthOf(x, "x") }),
      ...(y === undefined ? {} : { y: this.lengthOf(y, "y") }),
      z: this.lengthOf(row.z!, "z"),
      ...(time === undefined
        ? {}
        : { time: quantity("time", time, this.sheet.units.time === "clock" ? "s" : this.sheet.units.time) }),
      ...(temperature === undefined
        ? {}
        : { temperature: quantity("temperature", temperature, this.sheet.units.temperature) }),
    };
  }

  private lengthOf(value: number, axis: "x" | "y" | "z"): Length {
    return quantity("length", value, this.sheet.units[axis]);
  }
}

/**
 * Reads a survey from the text of a sheet, long or grid.
 *
 * @throws MeasurementError that names line and column
 * @example
 * const lines = ["# relative to: travel", "# front: y-", "# +x: right", "# +y: back"];
 * lines.push("# gauge resolution: 1 um", "# gauge maximum permissible error: 4 um");
 * lines.push("place,x/mm,y/mm,z/um,pass", "A1,0,0,3,1", "B1,50,0,-2,1");
 * parseSurvey(lines.join("\n")).readings().length // => 2
 */
export function parseSurvey(text: string, options: ParseOptions = {}): Survey {
  return Survey.fromSheet(parseSheet(text, options));
}

function quantity<K extends Kind>(kind: K, value: number, unit: UnitNames[K]): Quantity<K> {
  const row: { readonly [name: string]: Unit } = units[kind];
  return Quantity.fromSi(kind, toSi(row[unit]!, value));
}
