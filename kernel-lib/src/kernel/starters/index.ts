import { notebookText } from "../notebook-file.js";
import { notebookOf } from "../starter-notebook.js";
import { oneOf, refuse, type StarterAnswers } from "./answers.js";
import { axisWork } from "./axis.js";
import { gaugeWork } from "./gauge.js";
import { headWork } from "./head.js";
import { levelsWork } from "./levels.js";
import { squareWork } from "./square.js";
import { tableWork } from "./table.js";
import { warmUpWork } from "./warm-up.js";
import type { Begun, Work } from "./work.js";

/** What `dialbook new --for` can begin. */
export const works = {
  table: tableWork,
  axis: axisWork,
  head: headWork,
  square: squareWork,
  levels: levelsWork,
  gauge: gaugeWork,
  "warm-up": warmUpWork,
} as const satisfies { readonly [name: string]: Work };

export type WorkName = keyof typeof works;

/** @throws MeasurementError `new` for a work that is not known */
export function workOf(given: string | undefined): { readonly name: WorkName; readonly work: Work } {
  const name = oneOf("for", given ?? "table", Object.keys(works) as WorkName[]);
  return { name, work: works[name] };
}

/**
 * The files of a new piece of work, from what was typed.
 *
 * @throws MeasurementError `new` for an answer that can't be read, or that this work has no use for
 */
export function begin(answers: StarterAnswers): Begun & { readonly notebook: string } {
  const { name, work } = workOf(answers.for);
  const stray = (Object.keys(answers) as (keyof StarterAnswers)[]).find(
    (key) => isGiven(answers[key]) && !work.takes.includes(key),
  );
  if (stray !== undefined) refuse(`--${stray} is no matter of --for ${name}; leave it out`);
  const begun = work.begin(answers);
  return { ...begun, notebook: notebookText(notebookOf(begun.cells)) };
}

function isGiven(answer: StarterAnswers[keyof StarterAnswers]): boolean {
  return answer !== undefined && answer !== false && !(Array.isArray(answer) && answer.length === 0);
}
