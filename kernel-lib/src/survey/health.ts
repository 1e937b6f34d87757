import { display, type MimeBundle } from "../quantity/index.js";
import { correctDrift } from "./drift-correction.js";
import type { Checked, Finding, Severity } from "./finding.js";
import { checkApproach, checkClock, checkReturns } from "./health-course.js";
import { checkDatumReadings } from "./health-datums.js";
import { checkPasses, checkPlaces, checkShifts, passRate } from "./health-readings.js";
import { checkRows } from "./health-rows.js";
import { checkBlanks, checkGauge, checkProtocol, checkSpots, checkTravel, checkUnits } from "./health-sheet.js";
import { checkDrift, checkRepeats } from "./health-spread.js";
import { heightTable, withoutPlaces } from "./height-table.js";
import { passDisagreements } from "./pass-test.js";
import { passScatter, type RepeatScatter } from "./repeatability.js";
import type { Look, Sheet } from "./sheet.js";
import { checkLever, checkTurns } from "./slip-gauge.js";
import { checkSlips } from "./slips.js";

/**
 * What is wrong with a survey, where, how sure that is, and what to do about it.
 *
 * Checks that rest on statistics share one rate of false alarms: at most 5 of 100 clean sheets draw one of them.
 */
export class Health {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  private constructor(
    readonly name: string,
    readonly findings: readonly Finding[],
    /** scatter of one reading about its place, places whose passes disagree left out, µm, with its degrees of freedom; missing where nothing was read twice */
    readonly repeatability: RepeatScatter | undefined,
  ) {}

  /** Runs every check on a sheet. */
  static of(sheet: Sheet): Health {
    const raw = heightTable(sheet);
    const drift = correctDrift(raw, sheet.preamble.oneZero);
    const table = { ...raw, z: raw.z.map((z, i) => z - drift.perReading[i]!) };
    const disagreements = passDisagreements(table, passRate);
    const trusted = withoutPlaces(table, new Set(disagreements.map(({ place }) => place)));
    const scatter = passScatter(trusted);
    const checked: Checked = { sheet, raw, table, drift, disagreements, trusted, scatter };
    const checks = [
      checkUnits,
      checkGauge,
      checkSpots,
      checkTravel,
      checkPasses,
      checkPlaces,
      checkShifts,
      checkDrift,
      checkClock,
      checkReturns,
      checkDatumReadings,
      checkSlips,
      checkTurns,
      checkLever,
      checkApproach,
      checkRepeats,
      checkBlanks,
      checkRows,
      checkProtocol,
    ];
    return Health.from(
      sheet.name,
      checks.flatMap((check) => check(checked)).map((finding) => answered(finding, sheet.preamble.looked)),
      scatter,
    );
  }

  /** Findings put in order, the worst first. */
  static from(name: string, found: readonly Finding[], scatter: RepeatScatter | undefined): Health {
    const order: readonly Severity[] = ["stop", "check", "note"];
    const findings = [...found].sort((a, b) => order.indexOf(a.severity) - order.indexOf(b.severity));
    return new Health(name, findings, scatter);
  }

  /** nothing to stop for and nothing to look at again */
  get isSound(): boolean {
    return this.findings.every(({ severity }) => severity === "note");
  }

  toString(): string {
    const count = (severity: Severity) => this.findings.filter((f) => f.severity === severity).length;
    const head = `Health of ${this.name}: ${count("stop")} to stop for, ${count("check")} to check, ${count("note")} to note`;
    const lines = this.findings.map(({ severity, what, howSure, whatToDo }) => {
      const then = whatToDo === "nothing" ? "" : `; ${whatToDo}`;
      return `${severity}: ${what} (${howSure})${then}`;
    });
    return [head, ...lines].join("\n");
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/** A place that stands off is a note once somebody has said what is there. */
function answered(finding: Finding, looked: readonly Look[]): Finding {
  if (finding.check !== "neighbours") return finding;
  const look = looked.find(({ place }) => finding.places.every((one) => one === place));
  if (!look) return finding;
  return { ...finding, severity: "note", what: `${finding.what}; looked at: ${look.found}`, whatToDo: "nothing" };
}
