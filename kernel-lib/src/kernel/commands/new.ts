import { join, relative } from "node:path";
import { createInterface } from "node:readline/promises";
import { durationText } from "../../survey/plan.js";
import { type Command, readArguments, UsageError } from "../command.js";
import { projectFolder } from "../project.js";
import type { Starter } from "../starter.js";
import { StarterFiles } from "../starter-files.js";
import { say } from "../terminal.js";

const help = `dialbook new NAME   make a notebook and a sheet for a machine of your own, with your units and your gauge

  NAME                what the files are called: my-mill
  --table SIZE        the table, along X × along Y: "520 mm x 230 mm"
  --resolution STEP   of the indicator, one division or its last digit: "2 um", "0.0005 in"
  --error E           its maximum permissible error over the range used, from its maker or certificate: "4 um"
  Asked for at a terminal where left out; the others may be left out:
  --analogue          it has a pointer
  --fraction F        the part of a division that you estimate: 0.5
  --per-turn R        what one turn of the pointer measures: "0.2 mm"
  --hysteresis H      its hysteresis: "1 um"
  --gauge WORDS       what it is called
  --machine WORDS     what the machine is called (default "my machine")
  --workshop WORDS    where it stands
  --pitch P           greatest spacing of the places (default about an eighth of the longer side)
  --slot PLACE        a T-slot, which way it runs, its middle, its width: "x, 115 mm, 14 mm"; may be given again
  --passes N          how often each place is read (default 2)
  --units SYSTEM      metric or inch (default as the table is given)
  --heights UNIT      of the readings: um, thou or tenth (default um, thou with inches)
  --paper SIZE        A4 or Letter (default A4, Letter with inches)
  --help              this text

Made are notebooks/NAME.ipynb, data/NAME.csv and data/NAME-paper.html, which prints. Nothing that is there is replaced.`;

const text = { type: "string" } as const;
const options = {
  table: text,
  resolution: text,
  error: text,
  analogue: { type: "boolean" },
  fraction: text,
  "per-turn": text,
  hysteresis: text,
  gauge: text,
  machine: text,
  workshop: text,
  pitch: text,
  slot: { type: "string", multiple: true },
  passes: text,
  units: text,
  heights: text,
  paper: text,
} as const;

const questions = {
  table: 'The table, along X × along Y (like "520 mm x 230 mm"): ',
  resolution: 'One division of the indicator, or its last digit (like "2 um"): ',
  error: 'Its maximum permissible error, from its maker or certificate (like "4 um"): ',
} as const;

/** `dialbook new`: from nothing to a sheet on paper and a notebook that runs. */
export const newCommand: Command = {
  summary: "make a notebook and a sheet for a machine of your own",
  help,
  async run(args) {
    const { values, positionals } = readArguments("new", args, options);
    const [name, ...rest] = positionals;
    if (name === undefined || rest.length > 0) throw new UsageError("new: give one name; see dialbook new --help");
    const needed = await answersTo(values);
    const project = projectFolder(process.cwd());
    const files = StarterFiles.from(project, { name, ...values, ...needed });
    files.write();
    const { notebook, sheet, paper } = files.paths;
    const paths = [notebook, sheet, paper].map((path) => relative(process.cwd(), join(project, path)));
    say(told(name, paths, files.made));
    return 0;
  },
};

type Needed = { readonly [K in keyof typeof questions]: string };

/** what must be known: as given, or as answered at a terminal */
async function answersTo(given: Partial<Needed>): Promise<Needed> {
  const answers: { -readonly [K in keyof Needed]?: string } = {};
  for (const key of ["table", "resolution", "error"] as const) {
    const known = given[key];
    if (known === undefined && !process.stdin.isTTY) {
      throw new UsageError(`new: --${key} is missing; see dialbook new --help`);
    }
    answers[key] = known ?? (await ask(questions[key]));
  }
  return answers as Needed;
}

async function ask(question: string): Promise<string> {
  const terminal = createInterface({ input: process.stdin, output: process.stdout });
  try {
    return await terminal.question(question);
  } finally {
    terminal.close();
  }
}

function told(name: string, [notebook, sheet, paper]: readonly string[], { plan }: Starter): string {
  const run = /[^\w.-]/.test(name) ? `"${name}"` : name;
  return `made ${notebook}
made ${sheet}: ${plan.places.length} places, ${plan.readings.length} readings, about ${durationText(plan.time)}
made ${paper}: the same to print and take to the machine
Fill in the lines above the heading of the sheet and its heights, then
  npm run dialbook -- check ${run === name ? sheet : `"${sheet}"`}
  npm run dialbook -- run ${run}
The notebook runs already now and says what is still to fill in.`;
}
