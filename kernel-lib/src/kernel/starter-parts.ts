import type { UnitSystem } from "../quantity/kinds.js";
import type { Cell } from "./notebook.js";

export const text = (source: string): Cell => ({ cell_type: "markdown", id: "", metadata: {}, source });
export const code = (source: string): Cell => ({
  cell_type: "code",
  id: "",
  metadata: {},
  source,
  execution_count: null,
  outputs: [],
});

/** What a notebook of a reader's own machine asks after its opening, in the order of the chapters. */
export function starterParts(units: UnitSystem): readonly Cell[] {
  return [
    ...before,
    ...trying(units),
    ...machine(units),
    ...walking,
    ...trueness,
    ...levels,
    ...judging(units),
    ...deciding(units),
    ...proving,
    ...axes,
    ...closing,
  ];
}

/** what every such notebook imports, in the order of the alphabet; its opening adds what it needs itself */
export function starterNames(units: UnitSystem, own: readonly string[]): string {
  const used =
    "axis budget caution decision facing figure finding form heat input newton note proof readSurvey survey verdict versions whenFilled";
  return [...used.split(" "), units === "inch" ? "thou" : "um", ...own].sort().join(", ");
}

const before = [text("## Before you measure"), code('caution("before you measure", facing.measuringCautions)')];

function trying(units: UnitSystem): readonly Cell[] {
  const unit = units === "inch" ? "thou" : "um";
  return [
    text(
      "## Can I trust my indicator? (1)\n\n*Fill this in:* read ten places three times round, the stand left alone, and paste the readings as rows of place and height. On another day do it again, with a column `day` between the two.",
    ),
    code(`// fill this in: rows such as A1,3 between the marks
const trial: string = \`\`;
trial.trim() === ""
  ? note("no trial of the gauge yet: how far it repeats is taken from its step")
  : survey.parseGaugeStudy(\`place,value/${unit}\\n\${trial.trim()}\`, { name: "trial of my gauge" })`),
  ];
}

/** Z, the spindle's warmth and the head, each from a sheet of its own */
function machine(units: UnitSystem): readonly Cell[] {
  const inPounds = units === "inch" ? "; 1 lbf is 4.45 N" : "";
  return [
    text(
      "## Does Z go where it is told? (2)\n\n*Fill this in:* two ladders of small moves, as the head hangs and pulled up by more than it weighs, the indicator left alone in between; `data/ladder-z-pulled.csv` shows what such a sheet says.",
    ),
    code(`// fill this in: such as "../data/my-z-free.csv", "../data/my-z-pulled.csv", and what hangs on the screw${inPounds}
const ladders: readonly string[] = [];
const [hanging, pulled] = ladders.map((path) => axis.readSmallMoves(path));
hanging && pulled
  ? axis.liftUnderPull({ free: hanging, pulled, weight: newton(700) })
  : note("play of Z under the cutter's pull: not tested yet")`),
    text(
      "## How long must it warm up? (3)\n\n*Fill this in:* an indicator on the table against the spindle nose, read while it warms; `data/warm-up-spindle.csv` shows such a sheet.",
    ),
    code(`// fill this in: such as "../data/my-warm-up.csv"
const warming: string = "";
warming === ""
  ? note("spindle not yet watched while it warms: measure and cut warm")
  : heat.readWarmUp(warming).growth("nose")`),
    text(
      "## Is the head square? (4)\n\n*Fill this in:* a sweep of the head, twice round; `data/sweep-head.csv` shows such a sheet.",
    ),
    code(`// fill this in: such as "../data/my-sweep.csv"
const swept: string = "";
swept === ""
  ? note("head not swept yet")
  : form.spindleTram(form.readSweep(swept))`),
  ];
}

const walking = [
  text(
    "## The table, before a reading is taken (5)\n\nBurrs stoned, top wiped at each pass. Stylus preloaded, so that lows read too. Spindle locked and not turned. Quill in and locked, head at the height of the cut. The same locks throughout, the same side of approach. Off slots and holes, 10 mm from edges. Slide between places and note the largest swing. Go back to the datums where the sheet says so: at the start, now and then, and at the end.\n\n## What is still to fill in, and does the sheet add up? (5)",
  ),
  code("sheet.health()"),
  text(
    '*Fill this in: what was found, and what you read again.* Set a bad reading aside in code, with the reason: `sheet.withoutReading("C4", 1, "swarf")`; where a place stands off in every pass, look, and say what is there: `sheet.lookedAt("C4", "a ding")`.',
  ),
];

const trueness = [
  text("## How true, and which way off (5)"),
  code("whenFilled(sheet, (sheet) => form.flatness(sheet))"),
  code("whenFilled(sheet, (sheet) => figure.residualSurface(form.flatness(sheet)))"),
  text(
    "*Fill this in: where it stands high, where it sags.*\n\n## What is the form made of, is a high place real, and what lies between the places? (6)",
  ),
  code("whenFilled(sheet, (sheet) => form.makeUp(sheet))"),
  code("whenFilled(sheet, (sheet) => form.localHighs(sheet))"),
  code("whenFilled(sheet, (sheet) => form.surface(sheet.surface()))"),
];

const levels = [
  text(
    "## Table or travel? (8)\n\n*Fill this in:* the table by level, standing still; `data/levels-table.csv` shows such a sheet.",
  ),
  code(`// fill this in: such as "../data/my-levels.csv"
const levels: string = "";
levels === ""
  ? note("no level survey yet: table and travel are seen together")
  : form.levelNetwork(form.readLevels(levels))`),
];

function judging(units: UnitSystem): readonly Cell[] {
  const [none, half, limit] = units === "inch" ? ["thou(0)", "thou(0.05)", "thou(1)"] : ["um(0)", "um(1)", "um(20)"];
  return [
    text(
      "## How far to trust it, and is it good enough? (9)\n\n*Fill this in: what else could make the figure wrong, and the tolerance with its source.*",
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
function deciding(units: UnitSystem): readonly Cell[] {
  const [ridges, some] = units === "inch" ? ["thou(0.1)", "thou(0.1)"] : ["um(2)", "um(2)"];
  return [
    text(
      "## What to do (10, 11)\n\n*Fill this in: how high the ridges of your cutter are, what deflects, what of the travel does not repeat, what warmth does while the plate is cut. They are guesses; the survey afterwards judges them.*",
    ),
    code(`// fill this in: the four guesses
const plate = { texture: ${ridges}, deflectionUpTo: ${some}, travelRepeatUpTo: ${some}, heatUpTo: ${some} };
whenFilled(sheet, (sheet) => decision.options({ surface: sheet, highs: form.localHighs(sheet), tolerance, plate }))`),
  ];
}

const proving = [
  text(
    "## Did it help? (12)\n\n*Fill this in when the work is done: survey the same places again, on a copy of the sheet.* Stoned, scraped or levelled: the two surveys are held place by place. A new plate is judged by its own form instead, with `proof.newSurface`.",
  ),
  code(`// fill this in: the second sheet, such as "../data/my-mill-after.csv"
const after: string = "";
after === ""
  ? note("not surveyed again yet")
  : proof.difference({ before: sheet, after: readSurvey(after) })`),
];

const axes = [
  text(
    "## Do X and Y go where they are told? (13, 14)\n\n*Fill this in:* a positioning test against blocks or a bar; `data/positioning-x.csv` shows such a sheet.",
  ),
  code(`// fill this in: such as "../data/my-x.csv"
const lengths: string = "";
lengths === ""
  ? note("no axis tested yet")
  : axis.positioning(axis.readPositioning(lengths))`),
  text("## Does it stay so? (14)\n\n*Fill this in:* a line for each survey, written by `proof.appendToRecord`."),
  code(`// fill this in: such as "../data/my-record.jsonl"
const record: string = "";
record === ""
  ? note("no record yet")
  : proof.readRecord(record)`),
];

const closing = [text("## What I take away"), code("finding(String(judged))"), code("versions(sheet)")];
