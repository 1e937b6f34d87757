import type { UnitSystem } from "../../quantity/kinds.js";
import type { Cell } from "../notebook.js";
import { text } from "../starter-parts.js";
import type { BegunSheet } from "./work.js";

/** What the opening of a notebook says. */
export interface Opening {
  readonly name: string;
  /** "bed mill: X" */
  readonly title: string;
  readonly question: string;
  readonly sheets: readonly Pick<BegunSheet, "suffix">[];
  /** what to fill in beside the readings */
  readonly fill: string;
  readonly notCovered: string;
}

/** The first cell of a notebook, in the order in which a report is read. */
export function openingCell({ name, title, question, sheets, fill, notCovered }: Opening): Cell {
  const files = sheets.map(({ suffix }) => `\`data/${name}${suffix}.csv\``);
  const [last, ...before] = [...files].reverse();
  const listed = before.length === 0 ? last : `${before.reverse().join(", ")} and ${last}`;
  return text(`# ${inMarkdown(title)}

**The question.** ${question}

**The answer.** *Fill this in when the cells below have run: the figure, its ± and k.*

**The data.** ${listed}, printed to take to the machine as \`data/${name}-paper.html\`. *Fill this in: ${fill}*

**Not covered.** ${notCovered}

This notebook runs as it is. Where it needs something from you it says **fill this in**. In brackets stands the chapter that shows how.`);
}

/** a name a person wrote, without the signs that Markdown would take for its own */
export function inMarkdown(name: string): string {
  return name.replace(/[\\`*_[\]<>#|]+/g, " ").trim() || "my machine";
}

/** in code behind a quantity that a sentence names: a person's own sentence stays as it is written, in inches too */
export function textIn(units: UnitSystem): string {
  return units === "inch" ? '.text("inch")' : "";
}
