import { MeasurementError } from "../measurement-error.js";
import { display, type MimeBundle } from "../quantity/index.js";
import { type DataFrameLike, frameOfSheet, sheetOfFrame } from "./data-frame.js";
import type { Gauge } from "./gauge.js";
import { Health } from "./health.js";
import { passesOf } from "./height-table.js";
import type { KnownCourse } from "./known-course.js";
import { OpenFindings } from "./open-findings.js";
import { needPlace, needRemovable, type ParseOptions, parseSheet, sourceOfText } from "./parse-sheet.js";
import { PlaceStatistics } from "./place-statistics.js";
import type { Blank, Place, Reading } from "./reading.js";
import type { LengthUnit, Protocol, Removal, Sheet, StatedTemperature } from "./sheet.js";
import { blanksOf, placesOf, readingRows, readingsOf } from "./sheet-readings.js";
import { slipsOfSurveys } from "./slips-of-surveys.js";
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
  /** found when first asked for */
  #health: Health | undefined;

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
  /** the unit in which the sheet writes heights */
  get heightUnit(): LengthUnit {
    return this.sheet.units.z;
  }
  get passes(): readonly number[] {
    return passesOf(this.sheet.columns.pass);
  }
  /** places of the map, probed or blank, in the order of the sheet */
  get places(): readonly Place[] {
    return placesOf(this.sheet);
  }
  get datumReturns(): readonly Reading[] {
    return readingsOf(this.sheet, true);
  }
  /** cells left blank: planned, not probed */
  get blanks(): readonly Blank[] {
    return blanksOf(this.sheet);
  }

  /** Readings of the places, as they stand on the sheet; without the datum returns and those set aside. */
  readings(): readonly Reading[] {
    return readingsOf(this.sheet, false);
  }

  /** Count, mean and standard deviation of the readings at each place, as they stand. */
  byPlace(): PlaceStatistics {
    return PlaceStatistics.of(this.sheet);
  }

  [Symbol.iterator](): Iterator<Reading> {
    return this.readings()[Symbol.iterator]();
  }

  /** What is wrong with the survey, where, and what to do about it. */
  health(): Health {
    this.#health ??= Health.of(this.sheet);
    return this.#health;
  }

  /**
   * Slips that would make this survey agree with another one of the same table: its sense turned round, another unit,
   * mirrored or turned round, rows shifted by one, a lever angle not allowed for. They are asked about, never corrected.
   *
   * @throws MeasurementError `frames-differ` where the two are not relative to the same thing, or their axes differ
   */
  slips(other: Survey): Health {
    return slipsOfSurveys(this.sheet, other.sheet);
  }

  /**
   * The map: drift taken out where the datum returns show it, mean of the passes, sign and angles of the gauge put in.
   * @throws MeasurementError `no-reading` where every reading of a place is set aside or blank
   */
  surface(): Surface {
    return this.mapped();
  }

  /**
   * The map with a known course of the heights, such as a measured growth of the spindle, taken out of each reading by its
   * time first; the datum returns then say whether anything is left of the drift.
   * @throws MeasurementError `no-times` where readings have none, `no-reading`
   */
  surfaceWithout(course: KnownCourse): Surface {
    return this.mapped(course);
  }

  /** What the times of the readings are: of the day, or counted from the start; undefined where a reading has none. */
  get timesAre(): "of the day" | "from the start" | undefined {
    const { columns, units } = this.sheet;
    const rows = [...this.readings(), ...this.datumReturns];
    if (!columns.time || rows.some((reading) => reading.time === undefined)) return undefined;
    return units.time === "clock" ? "of the day" : "from the start";
  }

  private mapped(course?: KnownCourse): Surface {
    if (readingRows(this.sheet, false).length === 0) {
      throw new MeasurementError(
        "no-reading",
        `${this.name}: no place has a reading left; put one back, or probe the places`,
      );
    }
    const map = surfaceOf(this.sheet, this.file?.state, course);
    return { ...map, caveat: new OpenFindings(this.name, () => this.health()) };
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
    needRemovable(this.sheet.columns, removal, this.name);
    if (this.removed.some((r) => r.place === place && r.pass === pass)) {
      throw new MeasurementError(
        "reason",
        `withoutReading: ${place}, pass ${pass} is set aside already; leave out the second time`,
      );
    }
    return this.with({ removed: [...this.removed, removal] });
  }

  /**
   * The survey with what was found where a place stands off its neighbours in all passes: metal, not a slip. The health
   * check then notes it and no longer asks; the readings stay as they are.
   * @throws MeasurementError `reason`, `no-such-place`
   */
  lookedAt(place: string, found: string): Survey {
    const words = found.trim().replace(/\s+/g, " ");
    if (words === "") {
      throw new MeasurementError("reason", `lookedAt: nothing is said of ${place}; say what you saw or felt there`);
    }
    needPlace(this.sheet.columns, place, this.name);
    const others = this.sheet.preamble.looked.filter((look) => look.place !== place);
    return this.with({ looked: [...others, { place, found: words }] });
  }

  /** The same readings with the sign the other way round: what stood for high stands for low. */
  flipped(): Survey {
    const { gauge } = this.sheet.preamble;
    return this.with({ gauge: Object.freeze({ ...gauge, sense: gauge.sense === "minus" ? "plus" : "minus" }) });
  }

  /**
   * The rows as a danfojs data frame, for those who have that package: one column a heading of the sheet, blank cells
   * missing. What stands above the heading is not in it: `fromDataFrame(frame, { like: survey })` puts it back.
   *
   * @throws MeasurementError `package-missing`
   */
  toDataFrame(): DataFrameLike {
    return frameOfSheet(this.sheet);
  }

  /** A survey of the rows of a data frame, with what this one says above its heading. */
  withRows(frame: DataFrameLike, options: ParseOptions): Survey {
    return Survey.fromSheet(sheetOfFrame(frame, options, this.sheet));
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
    return `${this.name}: ${this.places.length} places against ${against}, ${readingRows(this.sheet, false).length} readings in ${this.passes.length === 1 ? "1 pass" : `${this.passes.length} passes`}, ${readingRows(this.sheet, true).length} datum readings, ${this.blanks.length} blank${aside}${state}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  private with(changed: Partial<Sheet["preamble"]>): Survey {
    return new Survey({ ...this.sheet, preamble: { ...this.sheet.preamble, ...changed } }, this.file);
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
  return Survey.fromSheet(parseSheet(sourceOfText(text), options));
}
