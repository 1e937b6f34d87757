import type { Cell, Notebook } from "./notebook.js";
import type { StarterOptions } from "./starter.js";
import { code, starterNames, starterParts, text } from "./starter-parts.js";
import { inMarkdown } from "./starters/words.js";

/** The cells of the notebook of a starter: they run as they are, and where something is needed they say fill this in. */
export function starterCells(options: StarterOptions): readonly Cell[] {
  return [...opening(options), ...starterParts(options.units)];
}

/** The blank notebook that stands beside the chapters, for a sheet that is there already. */
export function blankNotebook(): Notebook {
  return notebookOf([...blankOpening, ...starterParts("metric")]);
}

/** A notebook of cells, each with a name that stays. */
export function notebookOf(cells: readonly Cell[]): Notebook {
  return {
    cells: cells.map((cell, i) => ({ ...cell, id: `start-${String(i + 1).padStart(2, "0")}` })),
    metadata: {
      kernelspec: { display_name: "TypeScript (Dialbook)", language: "typescript", name: "dialbook" },
      language_info: { file_extension: ".ts", mimetype: "text/typescript", name: "typescript" },
    },
    nbformat: 4,
    nbformat_minor: 5,
  };
}

const howToUse =
  "This notebook runs as it is. Where it needs something from you it says **fill this in**. In brackets stands the chapter that shows how. With an indicator and one hour, parts 5, 6 and 9 are enough.";

function opening({ name, machine, units }: StarterOptions): readonly Cell[] {
  const inch = units === "inch";
  return [
    text(`# ${inMarkdown(machine)}: the table as found

**The question.** How true does the table run under the spindle, and where is it off?

**The answer.** *Fill this in when the cells below have run: the figure, its ± and k.*

**The data.** \`data/${name}.csv\`, printed to take to the machine as \`data/${name}-paper.html\`. *Fill this in: the lines above its heading, and the height in each row; leave a cell blank where you did not probe, blank is not zero.*

**Not covered.** *Fill this in: what you did not probe.* What the travel itself adds stays in the figures.`),
    text(howToUse),
    code(`import { ${starterNames(units, inch ? ["displayIn"] : [])} } from "dialbook";

const sheet = readSurvey(${JSON.stringify(`../data/${name}.csv`)});
sheet`),
    ...(inch ? [code('displayIn("inch")')] : []),
  ];
}

const blankOpening = [
  text(`# My machine: the table as found

**The question.** How true does the table of my machine run under the spindle, and where is it off?

**The answer.** *Fill this in when the cells below have run: the figure, its ± and k.*

**The data.** \`data/blank-sheet.csv\`. *Fill this in: save it under a name of your own; the gauge and how you measured go above the heading, a reading in each row.* Leave a cell blank where you did not probe, blank is not zero. A sheet, a paper and a notebook for your own table come from \`dialbook new\`.

**Not covered.** *Fill this in: what you did not probe.* What the travel itself adds stays in the figures.`),
  text(howToUse),
  code(`import { ${starterNames("metric", ["gauge"])} } from "dialbook";

// fill this in: the name of your sheet, and your own gauge's figures
const mine = gauge({ resolution: um(1), maximumPermissibleError: um(4) });
const sheet = readSurvey("../data/blank-sheet.csv", { gauge: mine });
sheet`),
];
