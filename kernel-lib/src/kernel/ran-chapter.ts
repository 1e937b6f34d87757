import type { Notebook } from "./notebook.js";

/** A notebook after its run: what `dialbook run` hands to the report. */
export interface RanChapter {
  /** the file's name without `.ipynb`: "03-flatness" */
  readonly name: string;
  /** the first heading of the notebook, or its name where it has none */
  readonly title: string;
  /** with the outputs of this run; cells after a failure have none */
  readonly notebook: Notebook;
  /** wall-clock time of the run, kernel start included */
  readonly seconds: number;
  /** one sentence with chapter, cell and line; absent when every cell ran */
  readonly failure?: string;
  /** one sentence where the file's own outputs came from cells run out of order */
  readonly handOrder?: string;
}

/** The MIME type by which a stated result reaches the command line and the report: `{ text }`. */
export const findingType = "application/vnd.dialbook.finding+json";
