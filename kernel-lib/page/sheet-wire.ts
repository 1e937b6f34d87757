import type { SheetEdit } from "../src/survey/sheet-text.js";

/** The sheet as the server holds it. */
export interface SheetOnDisk {
  readonly path: string;
  readonly name: string;
  /** SHA-256 of the bytes: tells one state of the file from another */
  readonly version: string;
  /** "open", "closed on 2026-10-17", "changed since it was closed on 2026-10-17" */
  readonly state: string;
  readonly text: string;
  /** notebooks whose code names this sheet */
  readonly notebooks: readonly string[];
}

/** What the survey's own checks say of the sheet as it is saved. */
export interface HealthOnDisk {
  readonly version: string;
  /** why it cannot be judged yet */
  readonly sentence?: string;
  readonly findings: readonly {
    readonly check: string;
    readonly severity: "stop" | "check" | "note";
    readonly what: string;
    readonly places: readonly string[];
    readonly howSure: string;
    readonly whatToDo: string;
  }[];
}

/** What the server answers to edits. */
export type SaveAnswer =
  | { readonly is: "saved"; readonly version: string }
  | { readonly is: "changed"; readonly disk: SheetOnDisk }
  | { readonly is: "refused"; readonly sentence: string }
  | { readonly is: "away"; readonly sentence: string };

/** The server's side of a sheet, as far as the page sees it. */
export interface SheetServer {
  load(path: string): Promise<SheetOnDisk>;
  /** undefined while the file is as `version` */
  newer(path: string, version: string): Promise<SheetOnDisk | undefined>;
  save(path: string, base: string, edits: readonly SheetEdit[]): Promise<SaveAnswer>;
  health(path: string): Promise<HealthOnDisk>;
  copy(path: string, to: string, reason: string): Promise<string>;
}
