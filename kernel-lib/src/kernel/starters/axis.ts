import { type AxisName, positioningPlan } from "../../axis/index.js";
import { blankSheet } from "../../display/blank-sheet.js";
import { type FormList, paperForm } from "../../display/paper-form.js";
import { axisCaution } from "../../display/present-axis.js";
import { type Length, mm, um } from "../../quantity/index.js";
import type { Cell } from "../notebook.js";
import { code, text } from "../starter-parts.js";
import { inInches, length, needed, oneOf, refuse, type StarterAnswers, words } from "./answers.js";
import { type Common, commonOf, openingLines, openSheet, type SheetLine, unitOnPaper } from "./common.js";
import { positioningInUnits } from "./positioning-units.js";
import { openingCell, textIn } from "./words.js";
import { type Begun, type BegunSheet, commonKeys, indicatorKeys, type Work } from "./work.js";

/** how far the small moves go up, in steps */
const rungs = 12;

interface Axis extends Common {
  readonly axis: AxisName;
  readonly travel: readonly [Length, Length];
  readonly lead: Length | undefined;
  readonly leadAsWritten: string | undefined;
  readonly reference: string;
}

/** An axis: small moves up and down, Z as it hangs and pulled up, and the positioning test over its travel. */
export const axisWork: Work = {
  summary: "an axis: small moves, and a positioning test over its travel",
  needs: ["axis", "travel", "reference", "resolution", "error"],
  takes: [...commonKeys, ...indicatorKeys, "axis", "travel", "reference", "lead"],
  begin,
};

function begin(answers: StarterAnswers): Begun {
  const travel = needed(answers, "travel");
  const given: Axis = {
    ...commonOf(answers, inInches(travel)),
    axis: oneOf("axis", needed(answers, "axis"), ["X", "Y", "Z"]),
    travel: travelOf(travel),
    reference: words("reference", needed(answers, "reference")),
    lead: answers.lead === undefined ? undefined : length("lead", answers.lead),
    leadAsWritten: answers.lead,
  };
  const ladders = ladderSheets(given);
  const plan = planOf(given);
  const test: BegunSheet = {
    suffix: "",
    text: positioningInUnits(plan.toCsv(), openingLines(given, plan.title), given),
    words: `${plan.readings.length} readings, about ${plan.time.in("min").toFixed(0)} min`,
  };
  const form = paperForm(
    {
      title: `${given.machine}: small moves of ${given.axis}`,
      caution: axisCaution,
      known: `axis ${given.axis}; gauge: ${given.gauge.name}, resolution ${given.asWritten["gauge resolution"]}`,
      protocol: smallMovesProtocol(given),
      lists: ladders.map((ladder) => ladderList(given, ladder.suffix)),
    },
    given.paper,
  );
  return {
    cells: cellsOf(given, [...ladders, test]),
    sheets: [test, ...ladders],
    paper: joined(form.document, blankSheet(plan, { paper: given.paper, units: given.units }).document),
  };
}

/** "0 mm to 500 mm", "5 to 235 mm" */
function travelOf(written: string): readonly [Length, Length] {
  const [from = "", to = "", ...rest] = written.split(/\s+to\s+/i);
  const unit = /[^\d.,\s]+\s*$/.exec(to)?.[0] ?? "";
  if (to === "" || rest.length > 0) refuse(`--travel "${written}" is not from … to …; write it like "5 mm to 235 mm"`);
  const whole = /[^\d.,\s+-]/.test(from) ? from : `${from} ${unit}`;
  const low = Number(from.replace(",", ".")) === 0 ? mm(0) : length("travel", whole);
  const high = length("travel", to);
  if (!high.isGreater(low)) refuse(`--travel "${written}" does not go up; write the low end first`);
  if (high.isGreater(mm(10_000))) refuse(`--travel "${written}" ends beyond 10 m; check the unit`);
  return [low, high];
}

function planOf({ machine, axis, travel, lead, gauge, reference, units }: Axis) {
  return positioningPlan({
    title: `${machine}: positioning of ${axis}`,
    axis,
    travel,
    gauge,
    reference: { name: reference },
    ...(lead && { lead }),
    // a control in inches is sent to whole thousandths
    landOn: units === "inch" ? um(25.4) : mm(0.1),
  });
}

/** a rung in the sheet's unit, two steps of the gauge at least, so that each is seen */
function rungOf({ gauge, units }: Axis): { readonly size: number; readonly unit: "um" | "tenth" } {
  const unit = units === "inch" ? "tenth" : "um";
  const least = gauge.resolution.in(unit);
  const usual = unit === "um" ? [5, 10, 20, 50] : [2, 5, 10, 20];
  return { size: usual.find((size) => size >= 2 * least) ?? Math.ceil(2 * least), unit };
}

function ladderOf(axis: Axis): readonly number[] {
  const { size } = rungOf(axis);
  const up = Array.from({ length: rungs + 1 }, (_, i) => i * size);
  return [...up, ...up.slice(0, -1).reverse()];
}

function ladderSheets(axis: Axis): readonly BegunSheet[] {
  const made = (suffix: string, title: string, more: readonly SheetLine[]): BegunSheet => ({
    suffix,
    words: `${ladderOf(axis).length} small moves`,
    text: openSheet(
      [...openingLines(axis, title), ["axis", axis.axis], ["sense proven"], ...more],
      [`commanded/${rungOf(axis).unit}`, `reading/${axis.zUnit}`, "note"],
      ladderOf(axis).map((at) => [at, "", ""]),
    ),
  });
  const title = `${axis.machine}: small moves of ${axis.axis}`;
  if (axis.axis !== "Z") return [made("-small-moves", title, [])];
  return [
    made("-hanging", `${title}, as the head hangs`, []),
    made("-pulled", `${title}, pulled up`, [["pull"], ["reading after release"]]),
  ];
}

function ladderList(axis: Axis, suffix: string): FormList {
  const { unit } = rungOf(axis);
  const how = { "-hanging": ", as the head hangs", "-pulled": ", pulled up" }[suffix] ?? "";
  const all = ladderOf(axis).map((at, i) => [String(i + 1), String(at)]);
  return {
    title: `${axis.machine}: small moves of ${axis.axis}${how}`,
    printed: ["no.", `commanded/${unitOnPaper(unit)}`],
    written: [`reading/${unitOnPaper(axis.zUnit)}`, "note"],
    blocks: [
      { text: "Up ▲: come from below the first", rows: all.slice(0, rungs + 1) },
      { text: "Down ▼: never go beyond and back", rows: all.slice(rungs + 1) },
    ],
  };
}

function smallMovesProtocol({ axis }: Axis): readonly (readonly [string, string])[] {
  return [
    ["sense proven", `one move towards +${axis}: which way did it read`],
    ["indicator", "along the axis, preloaded, stand on what does not move"],
    ["gibs", "as in the cut, the same throughout"],
    ["other axes", "locked"],
    ["lost motion in the control", "off, or which"],
    ["approach", "first move upward, three rungs before the first"],
    ["each rung", "one command; wait until the pointer rests"],
    ["no rung left out", "a miss begins the ladder again"],
    ...(axis === "Z"
      ? ([
          ["pull", "upward, how strong, by what gear"],
          ["reading after release", "at the last rung, once let go"],
        ] as const)
      : []),
  ];
}

function cellsOf(axis: Axis, sheets: readonly BegunSheet[]): readonly Cell[] {
  const { name, machine, axis: letter, leadAsWritten, lead, units } = axis;
  const path = (suffix: string) => JSON.stringify(`../data/${name}${suffix}.csv`);
  const drive = lead === undefined ? "" : `, { lead: mm(${Number(lead.in("mm").toFixed(6))}) }`;
  const fillLead =
    leadAsWritten === undefined
      ? "\n// fill this in: with the pitch of the screw, axis.systematicPart(test, { lead: mm(5) })"
      : "";
  const own = [
    ...(units === "inch" ? ["displayIn"] : []),
    ...(letter === "Z" ? ["newton"] : []),
    ...(lead === undefined ? [] : ["mm"]),
  ];
  const names = ["axis", "caution", "facing", "finding", "versions", "whenFilled", ...own].sort().join(", ");
  const ladders = letter === "Z" ? zLadders(path) : otherLadders(path);
  return [
    openingCell({
      name,
      title: `${machine}: ${letter}`,
      question: `Does ${letter} go where it is told, in small steps and over its travel; what is to be set in the control, and what is left?`,
      sheets,
      fill: "the lines above the headings, and a reading in each row. Every reading is needed; a run with a miss is read again.",
      notCovered: "*Fill this in: the stretch that was not tested, what a cutter's push does.*",
    }),
    code(`import { ${names} } from "dialbook";

caution("before you measure", facing.axisTestCautions)`),
    ...(units === "inch" ? [code('displayIn("inch")')] : []),
    ...ladders.cells,
    text(`## Does it go where it is told? (13)`),
    code(`const test = whenFilled(${path("")}, axis.readPositioning);
const found = whenFilled(test, axis.positioning);
found`),
    text("## What goes with the travel, what with each turn of the screw? (13)"),
    code(`const parts = whenFilled(test, (test) => axis.systematicPart(test${drive}));${fillLead}
parts`),
    text("## What to set, and what is left? (2, 13)"),
    code(`const set = whenFilled(found, axis.compensation);
set`),
    text("*Fill this in: what was set, and the test after it.*\n\n## What I take away"),
    code(
      `whenFilled(set, (set) => finding(\`${letter} stands within \${set.before.accuracy${textIn(units)}} of its commands; with lost motion and pitch set \${set.after.accuracy${textIn(units)}} is left by the same readings\`))`,
    ),
    code(`versions(test, ${ladders.names})`),
  ];
}

function otherLadders(path: (suffix: string) => string) {
  return {
    names: "ladder",
    cells: [
      text("## Small moves: how much play, what is the smallest move? (13)"),
      code(`const ladder = whenFilled(${path("-small-moves")}, axis.readSmallMoves);
ladder`),
    ],
  };
}

function zLadders(path: (suffix: string) => string) {
  return {
    names: "hanging, pulled",
    cells: [
      text("## Small moves: as the head hangs, and pulled up (2)"),
      code('caution("while the head is pulled up", facing.pulledHeadCautions)'),
      code(`const hanging = whenFilled(${path("-hanging")}, axis.readSmallMoves);
hanging`),
      code(`const pulled = whenFilled(${path("-pulled")}, axis.readSmallMoves);
pulled`),
      text("*Fill this in: what hangs on the screw, weighed or worked out.*"),
      code(`// fill this in: what hangs on the screw
const weight = newton(700);
whenFilled(hanging, (free) => whenFilled(pulled, (pulled) => axis.liftUnderPull({ free, pulled, weight })))`),
    ],
  };
}

/** the pages of two documents as one: the style of both is the same */
function joined(first: string, second: string): string {
  const pages = /<body>([\s\S]*)<\/body>/.exec(second)![1]!;
  return first.replace("</body>", () => `${pages}</body>`);
}
