import { caution } from "../../display/caution.js";
import { paperForm } from "../../display/paper-form.js";
import { measuringCautions } from "../../facing/index.js";
import { code, text } from "../starter-parts.js";
import { inInches, length, needed, type StarterAnswers } from "./answers.js";
import { commonOf, openingLines, openSheet, unitOnPaper } from "./common.js";
import { openingCell, textIn } from "./words.js";
import { type Begun, commonKeys, indicatorKeys, type Work } from "./work.js";

const angles = [0, 45, 90, 135, 180, 225, 270, 315];
const turns = [1, 2];

/** The head: a sweep of the spindle, twice round. */
export const headWork: Work = {
  summary: "the head: a sweep of the spindle, twice round",
  needs: ["radius", "resolution", "error"],
  takes: [...commonKeys, ...indicatorKeys, "radius"],
  begin,
};

function begin(answers: StarterAnswers): Begun {
  const radius = needed(answers, "radius");
  length("radius", radius);
  const given = commonOf(answers, inInches(radius));
  const { name, machine, zUnit, units, paper, gauge, asWritten } = given;
  const title = `${machine}: is the head square`;
  const rows = turns.flatMap((turn) => angles.map((angle) => [angle, "", turn, ""]));
  const sheet = openSheet(
    [
      ...openingLines(given, title),
      ["radius", radius.trim()],
      ["radius within"],
      ["centre"],
      ["over"],
      ["height"],
      ["spindle"],
    ],
    ["angle/deg", `reading/${zUnit}`, "turn", "note"],
    rows,
  );
  const form = paperForm(
    {
      title,
      caution: caution("while the indicator is in the spindle", measuringCautions),
      known: `stylus ${radius.trim()} from the axis of the spindle; 0° points to +X, 90° to +Y, seen from above; gauge: ${gauge.name}, resolution ${asWritten["gauge resolution"]}`,
      protocol: [
        ["spindle", "machine unplugged, in neutral, turned by hand"],
        ["quill", "in and locked"],
        ["head", "at the height of the cut, locked"],
        ["radius within", "how well it is known"],
        ["centre", "where on the table the spindle stands: x, y in mm"],
        ["over", "the table, or one block slid under the stylus"],
        ["top wiped", "burrs stoned, slots kept clear of"],
        ["stylus preloaded", "so that lows read; the arm does not touch"],
        ["zeroed", "once, at 0° of the first turn"],
        ["same way round", "never backwards; a miss begins the turn again"],
      ],
      lists: [
        {
          title: `${title}: readings`,
          printed: ["no.", "angle/°"],
          written: [`reading/${unitOnPaper(zUnit)}`, "note"],
          blocks: turns.map((turn) => ({
            text: `Turn ${turn} of ${turns.length}`,
            rows: angles.map((angle, i) => [String((turn - 1) * angles.length + i + 1), String(angle)]),
          })),
        },
      ],
    },
    paper,
  );
  const over = units === "inch" ? "inch(6)" : "mm(150)";
  return {
    sheets: [{ suffix: "", text: sheet, words: `${rows.length} readings, twice round` }],
    paper: form.document,
    cells: [
      openingCell({
        name,
        title,
        question:
          "Does the spindle stand square to what was swept, which way does it lean, and which foil goes under which bolt?",
        sheets: [{ suffix: "" }],
        fill: "the lines above the heading, and a reading in each row.",
        notCovered:
          "The sweep sees table and travel together; *fill this in: whether the travel was looked at apart from the table (chapters 4 and 8).*",
      }),
      code(`import { ${[...(units === "inch" ? ["displayIn", "inch"] : ["mm", "um"]), "caution", "facing", "figure", "finding", "form", "note", "versions", "whenFilled", ...(units === "inch" ? ["thou"] : [])].sort().join(", ")} } from "dialbook";

caution("before you measure", facing.measuringCautions)`),
      ...(units === "inch" ? [code('displayIn("inch")')] : []),
      text("## Is the head square? (4)"),
      code(`const sweep = whenFilled(${JSON.stringify(`../data/${name}.csv`)}, form.readSweep);
const tram = whenFilled(sweep, form.spindleTram);
tram`),
      code("whenFilled(tram, (tram) => figure.tramCircle(tram))"),
      text("## How much is that over a cut?"),
      code(`whenFilled(tram, (tram) => tram.over(${over}))`),
      text(
        "## Which foil under which bolt? (4)\n\n*Fill this in:* where the bolts of the head stand, looking at its back, and the foils at hand.",
      ),
      code(shimCell(units === "inch")),
      text("## What I take away"),
      code(
        `whenFilled(tram, (tram) => finding(\`the top of the head leans \${tram.size${textIn(units)}} against what was swept\`))`,
      ),
      code("versions(sweep)"),
    ],
  };
}

function shimCell(inch: boolean): string {
  const [unit, sides, foils] = inch
    ? ["inch", [7, 8.5], "thou(0.5), thou(1), thou(2), thou(4)"]
    : ["mm", [180, 220], "um(10), um(20), um(50), um(100)"];
  const [across, up] = sides as [number, number];
  return `// fill this in: true once the places of the bolts and the foils are your own
const mine: boolean = false;
const bolt = (label: string, x: number, y: number) => ({ label, x: ${unit}(x), y: ${unit}(y) });
const bolts = [bolt("1", 0, 0), bolt("2", ${across}, 0), bolt("3", ${across}, ${up}), bolt("4", 0, ${up})];
const foils = [${foils}];
mine
  ? whenFilled(tram, ({ lean }) => form.shims({ name: "head", what: "column", tilt: { as: "lean", ...lean }, bolts, foils }))
  : note("bolts not stated yet: no foils are named")`;
}
