import { caution } from "../../display/caution.js";
import { paperForm } from "../../display/paper-form.js";
import { axisTestCautions } from "../../facing/index.js";
import { code, text } from "../starter-parts.js";
import {
  inInches,
  length,
  nameOf,
  needed,
  oneOf,
  refuse,
  type StarterAnswers,
  slope,
  tableOf,
  words,
} from "./answers.js";
import { openSheet, type SheetLine } from "./common.js";
import { openingCell, textIn } from "./words.js";
import { type Begun, commonKeys, type Work } from "./work.js";

/** from an edge of the table to the nearest foot of the level, in mm at least */
const margin = 5;
const mostColumns = 7;
const ways = ["as marked", "turned"] as const;

interface Line {
  readonly name: string;
  readonly ends: string;
  readonly steps: number;
}

/** The table by level: lines along X and along Y stepped off foot by foot, the level turned end for end on each. */
export const levelsWork: Work = {
  summary: "the table by level: the table alone, without the travel",
  needs: ["table", "foot", "resolution", "error"],
  takes: [...commonKeys, "table", "foot"],
  begin,
};

function begin(answers: StarterAnswers): Begun {
  const [resolution, error] = [answers.resolution.trim(), answers.error.trim()];
  slope("resolution", resolution);
  slope("error", error);
  const foot = needed(answers, "foot").trim();
  const lines = linesOf(
    tableOf(needed(answers, "table")).map((side) => side.in("mm")),
    length("foot", foot).in("mm"),
    foot,
  );
  const name = nameOf(answers.name);
  const machine = words("machine", answers.machine ?? "my machine");
  const level = words("gauge", answers.gauge ?? "level");
  const inch =
    oneOf("units", answers.units ?? (inInches(needed(answers, "table")) ? "inch" : "metric"), ["metric", "inch"]) ===
    "inch";
  const title = `${machine}: the table by level`;
  const rows = lines.flatMap((line) =>
    ways.flatMap((way) => steps(line).map((step) => [line.name, step, way, "", ""])),
  );
  const above: readonly SheetLine[] = [
    ["title", title],
    ["workshop", answers.workshop === undefined ? undefined : words("workshop", answers.workshop)],
    ["date"],
    ["measured by"],
    ["relative to", "gravity"],
    ["front", "y-"],
    ["+x", "right"],
    ["+y", "back"],
    ["level", level],
    ["level resolution", resolution],
    ["level maximum permissible error", error],
    ["foot", foot],
    ["stood still"],
    ...lines.map(({ name: line, ends }): SheetLine => [`line ${line}`, ends]),
  ];
  const form = paperForm(
    {
      title,
      caution: caution("while the table is moved to where it stands still", axisTestCautions),
      known: `steps of ${foot} between the feet; front is y−, +X points right, +Y back; the mark of the level points to the end of the line, turned: to its start; level: ${level}, resolution ${resolution}`,
      protocol: [
        ["stood still", "table in the middle of its travel, locked; nobody walks"],
        ["stood at", "one place for all readings"],
        ["feet of the level", "wiped at each step, foot to foot on a pencil mark"],
        ["bubble", "waited for until it rests, a minute"],
        ["read", "in the middle of the bubble, the same eye throughout"],
        ["turned", "each step read once more, the level end for end"],
        ["temperature", "level lain on the table for an hour, hands off"],
        ["before", "the machine on its feet as in use, vice off"],
      ],
      lists: [
        {
          title: `${title}: readings`,
          printed: ["step"],
          written: ["as marked/µm/m", "turned/µm/m"],
          blocks: lines.map((line) => ({
            text: `${line.name}: ${line.ends}`,
            rows: steps(line).map((step) => [String(step)]),
          })),
        },
      ],
    },
    oneOf("paper", answers.paper ?? (inch ? "Letter" : "A4"), ["A4", "Letter"]),
  );
  return {
    sheets: [
      {
        suffix: "",
        text: openSheet(above, ["line", "step", "direction", "reading/um/m", "note"], rows),
        words: `${lines.length} lines, ${rows.length} readings`,
      },
    ],
    paper: form.document,
    cells: [
      openingCell({
        name,
        title,
        question: "Is the table itself hollow, and where is it off, apart from what the travel does?",
        sheets: [{ suffix: "" }],
        fill: "the lines above the heading, and a reading in each row; a level that shows divisions: head the column `reading/div` and write `# division: 20 um/m`.",
        notCovered: "How the travel arches: *hold this against the survey under the spindle (chapter 8).*",
      }),
      code(`import { ${["caution", ...(inch ? ["displayIn"] : []), "facing", "finding", "form", "versions", "whenFilled"].join(", ")} } from "dialbook";

caution("while the table is moved to where it stands still", facing.axisTestCautions)`),
      ...(inch ? [code('displayIn("inch")')] : []),
      text("## Do the lines close, is one reading off, what is the form? (8)"),
      code(`const levels = whenFilled(${JSON.stringify(`../data/${name}.csv`)}, form.readLevels);
const network = whenFilled(levels, form.levelNetwork);
network`),
      text("## How true is the table by level?"),
      code("const flat = whenFilled(network, (network) => form.flatness(network.surface()));\nflat"),
      text("## What I take away"),
      code(
        `whenFilled(flat, (flat) => finding(\`the table by level: \${flat.minimumZone.corrected${textIn(inch ? "inch" : "metric")}} minimum zone, the travel left out\`))`,
      ),
      code("versions(levels)"),
    ],
  };
}

const steps = ({ steps: count }: Line): readonly number[] => Array.from({ length: count }, (_, i) => i + 1);

/** Lines along X at each step of Y, and along Y at most steps of X: they share their places, so that loops close. */
function linesOf([x = 0, y = 0]: readonly number[], foot: number, written: string): readonly Line[] {
  const [alongX, alongY] = [x, y].map((side) => Math.floor((side - 2 * margin) / foot)) as [number, number];
  if (alongX < 2 || alongY < 1) {
    refuse(`--foot "${written}" steps off no net on this table; use a bridge with feet closer together`);
  }
  const at = (side: number, count: number) =>
    Array.from({ length: count + 1 }, (_, i) => Number((Math.round((side - count * foot) / 2) + i * foot).toFixed(2)));
  const [xs, ys] = [at(x, alongX), at(y, alongY)];
  const columns = xs.length <= mostColumns ? xs : [xs[0]!, xs[Math.floor(xs.length / 2)]!, xs.at(-1)!];
  return [
    ...ys.map((row) => ({ name: `row ${row}`, ends: `${xs[0]}, ${row} to ${xs.at(-1)}, ${row}`, steps: alongX })),
    ...columns.map((column) => ({
      name: `column ${column}`,
      ends: `${column}, ${ys[0]} to ${column}, ${ys.at(-1)}`,
      steps: alongY,
    })),
  ];
}
