import { join, relative } from "node:path";
import { createInterface } from "node:readline/promises";
import { type Command, readArguments, UsageError } from "../command.js";
import { projectFolder } from "../project.js";
import { StarterFiles } from "../starter-files.js";
import type { StarterAnswers } from "../starters/answers.js";
import { workOf } from "../starters/index.js";
import { say } from "../terminal.js";

const help = `dialbook new NAME   make a notebook and a sheet for a machine of your own, with your units and your gauge

  NAME                what the files are called: my-mill
  --for WORK          what is to be measured, table when left out:
                        table    a survey of the table, and all that follows from it
                        axis     small moves, and a positioning test over the travel
                        head     a sweep of the spindle
                        square   two axes to each other, by a square that is turned over
                        levels   the table by level, apart from the travel
                        gauge    a trial of the indicator
                        warm-up  the spindle as it warms
  --resolution STEP   of the indicator, one division or its last digit: "2 um", "0.0005 in"; of a level "4 um/m"
  --error E           its maximum permissible error over the range used, from its maker or certificate: "4 um"
  --table SIZE        table, levels: along X × along Y: "520 mm x 230 mm"
  --axis NAME         axis: X, Y or Z
  --travel STRETCH    axis: what is to be tested of it: "5 mm to 235 mm"
  --reference WORDS   axis: what carries the length: "gauge blocks", "stepped bar"
  --radius R          head: of the stylus from the axis of the spindle: "100 mm"
  --legs L            square: how long they are: "200 mm"
  --foot F            levels: between the feet of the level or its bridge: "80 mm"
  Asked for at a terminal where left out; the others may be left out:
  --lead L            axis: what one turn of the screw moves: "5 mm"
  --rounds N          gauge: how often the places are read (default 3)
  --hours N           warm-up: how long it is watched (default 3)
  --analogue          the indicator has a pointer
  --fraction F        the part of a division that you estimate: 0.5
  --per-turn R        what one turn of the pointer measures: "0.2 mm"
  --hysteresis H      its hysteresis: "1 um"
  --gauge WORDS       what it is called
  --machine WORDS     what the machine is called (default "my machine")
  --workshop WORDS    where it stands
  --pitch P           table: greatest spacing of the places (default about an eighth of the longer side)
  --slot PLACE        table: a T-slot, which way it runs, its middle, its width: "x, 115 mm, 14 mm"; may be given again
  --passes N          table: how often each place is read (default 2)
  --units SYSTEM      metric or inch (default as the lengths are given)
  --heights UNIT      of the readings: um, thou or tenth (default um, thou with inches)
  --paper SIZE        A4 or Letter (default A4, Letter with inches)
  --help              this text

Made are notebooks/NAME.ipynb, its sheets data/NAME….csv and data/NAME-paper.html, which prints. Nothing that is there is
replaced.`;

const text = { type: "string" } as const;
const options = {
  for: text,
  table: text,
  axis: text,
  travel: text,
  reference: text,
  lead: text,
  radius: text,
  legs: text,
  foot: text,
  rounds: text,
  hours: text,
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

const questions: { readonly [key: string]: string } = {
  table: 'The table, along X × along Y (like "520 mm x 230 mm"): ',
  axis: "Which axis, X, Y or Z: ",
  travel: 'The stretch to be tested (like "5 mm to 235 mm"): ',
  reference: 'What carries the length (like "gauge blocks" or "stepped bar"): ',
  radius: 'From the axis of the spindle to the stylus (like "100 mm"): ',
  legs: 'How long the legs of the square are (like "200 mm"): ',
  foot: 'Between the feet of the level or its bridge (like "80 mm"): ',
  resolution: 'One division of the indicator, or its last digit (like "2 um"; of a level "4 um/m"): ',
  error: 'Its maximum permissible error, from its maker or certificate (like "4 um"; of a level "10 um/m"): ',
};

/** `dialbook new`: from nothing to a sheet on paper and a notebook that runs. */
export const newCommand: Command = {
  summary: "make a notebook and a sheet for a machine of your own",
  help,
  async run(args) {
    const { values, positionals } = readArguments("new", args, options);
    const [name, ...rest] = positionals;
    if (name === undefined || rest.length > 0) throw new UsageError("new: give one name; see dialbook new --help");
    const answers = await answersTo({ resolution: "", error: "", ...values, name });
    const project = projectFolder(process.cwd());
    const files = StarterFiles.from(project, answers);
    files.write();
    say(told(name, project, files));
    return 0;
  },
};

/** what must be known: as given, or as answered at a terminal */
async function answersTo(given: StarterAnswers): Promise<StarterAnswers> {
  const answers: { -readonly [K in keyof StarterAnswers]: StarterAnswers[K] } = { ...given };
  for (const key of workOf(given.for).work.needs) {
    if (answers[key] !== undefined && answers[key] !== "") continue;
    if (!process.stdin.isTTY) throw new UsageError(`new: --${key} is missing; see dialbook new --help`);
    Object.assign(answers, { [key]: await ask(questions[key]!) });
  }
  return answers;
}

async function ask(question: string): Promise<string> {
  const terminal = createInterface({ input: process.stdin, output: process.stdout });
  try {
    return await terminal.question(question);
  } finally {
    terminal.close();
  }
}

function told(name: string, project: string, { paths, made }: StarterFiles): string {
  const from = (path: string) => relative(process.cwd(), join(project, path));
  const quoted = (word: string) => (/[^\w./\\-]/.test(word) ? `"${word}"` : word);
  const sheets = paths.sheets.map(from);
  return [
    `made ${from(paths.notebook)}`,
    ...sheets.map((path, i) => `made ${path}: ${made.sheets[i]!.words}`),
    `made ${from(paths.paper)}: the same to print and take to the machine`,
    `Fill in the lines above the heading of ${sheets.length === 1 ? "the sheet" : "each sheet"} and its readings, then`,
    ...sheets.map((path) => `  npm run dialbook -- check ${quoted(path)}`),
    `  npm run dialbook -- run ${quoted(name)}`,
    "The notebook runs already now and says what is still to fill in.",
  ].join("\n");
}
