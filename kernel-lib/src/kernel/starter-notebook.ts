import type { Cell, Notebook } from "./notebook.js";
import type { StarterOptions } from "./starter.js";

/** The notebook of a starter: it runs as it is, and where it needs something it says fill this in. */
export function starterNotebook(options: StarterOptions): Notebook {
  const cells = [
    ...opening(options),
    ...trying(options),
    ...measuring,
    ...results,
    ...judging(options),
    ...deciding(options),
    ...proving,
    ...closing,
  ];
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

const text = (source: string): Cell => ({ cell_type: "markdown", id: "", metadata: {}, source });
const code = (source: string): Cell => ({
  cell_type: "code",
  id: "",
  metadata: {},
  source,
  execution_count: null,
  outputs: [],
});

function opening({ name, machine, units }: StarterOptions): readonly Cell[] {
  const inch = units === "inch";
  const names = `budget, caution, decision, ${inch ? "displayIn, " : ""}facing, figure, finding, form, input, note, proof, readSurvey, survey, ${inch ? "thou" : "um"}, verdict, versions, whenFilled`;
  return [
    text(`# ${inMarkdown(machine)}: the table as found

**The question.** How true does the table run under the spindle, and where is it off?

**The answer.** *Fill this in when the cells below have run: the figure, its ± and k.*

**The data.** \`data/${name}.csv\`, printed to take to the machine as \`data/${name}-paper.html\`. *Fill this in: the lines above its heading, and the height in each row; leave a cell blank where you did not probe, blank is not zero.*

**Not covered.** *Fill this in: what you did not probe.* What the travel itself adds stays in the figures.`),
    code(`import { ${names} } from "dialbook";

const sheet = readSurvey(${JSON.stringify(`../data/${name}.csv`)});
sheet`),
    ...(inch ? [code('displayIn("inch")')] : []),
  ];
}

/** the trial of the gauge, before it is trusted */
function trying({ units }: StarterOptions): readonly Cell[] {
  const unit = units === "inch" ? "thou" : "um";
  return [
    text(
      "## Can I trust my indicator?\n\n*Fill this in:* read ten places three times round, the stand left alone, and paste the readings as rows of place and height. On another day do it again, with a column `day` between the two.",
    ),
    code(`// fill this in: rows such as A1,3 between the marks
const trial: string = \`\`;
trial.trim() === ""
  ? note("no trial of the gauge yet: how far it repeats is taken from its step")
  : survey.parseGaugeStudy(\`place,value/${unit}\\n\${trial.trim()}\`, { name: "trial of my gauge" })`),
  ];
}

const measuring = [
  text("## Before you measure"),
  code('caution("before you measure", facing.measuringCautions)'),
  text(
    "Burrs stoned, top wiped at each pass. Stylus preloaded, so that lows read too. Spindle locked and not turned. Quill in and locked, head at the height of the cut. The same locks throughout, the same side of approach. Off slots and holes, 10 mm from edges. Slide between places and note the largest swing. Go back to the datums where the sheet says so.",
  ),
  text("## What is still to fill in, and does the sheet add up?"),
  code("sheet.health()"),
  text(
    '*Fill this in: what was found, and what you read again.* Set a bad reading aside in code, with the reason: `sheet.withoutReading("C4", 1, "swarf")`.',
  ),
];

const results = [
  text("## How true, and which way off"),
  code("whenFilled(sheet, (sheet) => form.flatness(sheet))"),
  code("whenFilled(sheet, (sheet) => figure.residualSurface(form.flatness(sheet)))"),
  text("*Fill this in: where it stands high, where it sags.*"),
  text("## Is a high place real?"),
  code("whenFilled(sheet, (sheet) => form.localHighs(sheet))"),
];

function judging({ units }: StarterOptions): readonly Cell[] {
  const [none, half, limit] = units === "inch" ? ["thou(0)", "thou(0.05)", "thou(1)"] : ["um(0)", "um(1)", "um(20)"];
  return [
    text(
      "## How far to trust it, and is it good enough?\n\n*Fill this in: what else could make the figure wrong, and the tolerance with its source.*",
    ),
    code(`// fill this in: how far the stand gives, the tolerance, where both come from
const give = input.rectangular({ label: "stand gives", estimate: ${none}, halfWidth: ${half}, source: "fill this in" });
const tolerance = { upper: ${limit}, source: "fill this in: the job, the maker's sheet, a standard" };
const judged = whenFilled(sheet, (sheet) => {
  const zone = budget({
    measurand: "flatness of the table (minimum zone)",
    inputs: { asRead: form.flatness(sheet).minimumZone.corrected, give },
    model: ({ asRead, give }) => asRead.plus(give),
  });
  return verdict(zone, tolerance);
});
judged`),
  ];
}

/** the options against each other; each guess is the reader's own */
function deciding({ units }: StarterOptions): readonly Cell[] {
  const [ridges, some] = units === "inch" ? ["thou(0.1)", "thou(0.1)"] : ["um(2)", "um(2)"];
  return [
    text(
      "## What to do\n\n*Fill this in: how high the ridges of your cutter are, what deflects, what of the travel does not repeat, what warmth does while the plate is cut. They are guesses; the survey afterwards judges them.*",
    ),
    code(`const plate = { texture: ${ridges}, deflectionUpTo: ${some}, travelRepeatUpTo: ${some}, heatUpTo: ${some} };
whenFilled(sheet, (sheet) => decision.options({ surface: sheet, highs: form.localHighs(sheet), tolerance, plate }))`),
  ];
}

const proving = [
  text(
    "## Did it help?\n\n*Fill this in when the work is done: survey the same places again, on a copy of the sheet.* Stoned, scraped or levelled: the two surveys are held place by place. A new plate is judged by its own form instead, with `proof.newSurface`.",
  ),
  code(`// fill this in: the second sheet, such as "../data/my-mill-after.csv"
const after: string = "";
after === ""
  ? note("not surveyed again yet")
  : proof.difference({ before: sheet, after: readSurvey(after) })`),
];

const closing = [text("## What I take away"), code("finding(String(judged))"), code("versions(sheet)")];

/** a name a person wrote, without the signs that Markdown would take for its own */
function inMarkdown(name: string): string {
  return name.replace(/[\\`*_[\]<>#|]+/g, " ").trim() || "my machine";
}
