import type { Cell } from "../notebook.js";
import type { StarterAnswers } from "./answers.js";

/** What is to be measured with a new notebook. */
export interface Work {
  /** "a sweep of the head": what the files are for */
  readonly summary: string;
  /** asked for where they are not given, in this order */
  readonly needs: readonly (keyof StarterAnswers)[];
  /** what else may be given, beside what every work takes */
  readonly takes: readonly (keyof StarterAnswers)[];
  /** @throws MeasurementError `new` for an answer that can't be read */
  readonly begin: (answers: StarterAnswers) => Begun;
}

export interface BegunSheet {
  /** behind the name of the files: "-small-moves", or nothing */
  readonly suffix: string;
  readonly text: string;
  /** "24 moves": what is to be filled in */
  readonly words: string;
}

/** The files of a new piece of work. */
export interface Begun {
  readonly cells: readonly Cell[];
  readonly sheets: readonly [BegunSheet, ...BegunSheet[]];
  /** a page to print */
  readonly paper: string;
}

/** what every work takes */
export const commonKeys = [
  "name",
  "for",
  "resolution",
  "error",
  "gauge",
  "machine",
  "workshop",
  "units",
  "paper",
] as const satisfies readonly (keyof StarterAnswers)[];

/** what a work takes whose gauge is an indicator */
export const indicatorKeys = [
  "analogue",
  "fraction",
  "per-turn",
  "hysteresis",
  "heights",
] as const satisfies readonly (keyof StarterAnswers)[];
