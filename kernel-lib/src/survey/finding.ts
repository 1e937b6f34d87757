import type { DriftCorrection } from "./drift-correction.js";
import type { HeightTable } from "./height-table.js";
import type { PassDisagreement } from "./pass-test.js";
import type { RepeatScatter } from "./repeatability.js";
import type { Sheet } from "./sheet.js";

/** `stop`: figures from this sheet mislead. `check`: read again or look before trusting them. `note`: said, not wrong. */
export type Severity = "stop" | "check" | "note";

/** One thing that the sheet's own readings say about it. */
export interface Finding {
  /** which check found it: "passes", "drift", "blanks" … */
  readonly check: string;
  readonly severity: Severity;
  readonly what: string;
  readonly places: readonly string[];
  readonly howSure: string;
  readonly whatToDo: string;
}

/** What every check looks at. */
export interface Checked {
  readonly sheet: Sheet;
  /** heights as read, and with drift taken out */
  readonly raw: HeightTable;
  readonly table: HeightTable;
  readonly drift: DriftCorrection;
  readonly disagreements: readonly PassDisagreement[];
  /** without the places whose passes disagree, so that one bad reading does not colour every other check */
  readonly trusted: HeightTable;
  readonly scatter: RepeatScatter | undefined;
}
