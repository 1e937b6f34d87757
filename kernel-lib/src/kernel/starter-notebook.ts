import type { Cell, Notebook } from "./notebook.js";
import type { StarterOptions } from "./starter.js";

/** The notebook of a starter: it runs as it is, and where it needs something it says fill this in. */
export function starterNotebook(options: StarterOptions): Notebook {
  const cells = [...opening(options), ...measuring, ...results, ...judging(options), ...closing];
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
  const names = `budget, caution, ${inch ? "displayIn, " : ""}facing, figure, finding, form, input, readSurvey, ${inch ? "thou" : "um"}, verdict, versions, whenFilled`;
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

const closing = [text("## What I take away"), code("finding(String(judged))"), code("versions(sheet)")];

/** a name a person wrote, without the signs that Markdown would take for its own */
function inMarkdown(name: string): string {
  return name.replace(/[\\`*_[\]<>#|]+/g, " ").trim() || "my machine";
}
