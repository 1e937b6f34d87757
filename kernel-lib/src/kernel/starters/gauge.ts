import { caution } from "../../display/caution.js";
import { paperForm } from "../../display/paper-form.js";
import { measuringCautions } from "../../facing/index.js";
import { code, text } from "../starter-parts.js";
import { inInches, type StarterAnswers, wholeNumber } from "./answers.js";
import { commonOf, openingLines, openSheet, unitOnPaper } from "./common.js";
import { openingCell, textIn } from "./words.js";
import { type Begun, commonKeys, indicatorKeys, type Work } from "./work.js";

const places = Array.from({ length: 10 }, (_, i) => `P${i + 1}`);

/** The gauge: ten places in turn, three times round, the stand left alone. */
export const gaugeWork: Work = {
  summary: "the gauge: a trial, ten places in turn, three times round",
  needs: ["resolution", "error"],
  takes: [...commonKeys, ...indicatorKeys, "rounds"],
  begin,
};

function begin(answers: StarterAnswers): Begun {
  const given = commonOf(answers, inInches(answers.resolution));
  const rounds = wholeNumber("rounds", answers.rounds ?? "3", [2, 20]);
  const { name, zUnit, units, paper, gauge, asWritten } = given;
  const title = `${gauge.name === "gauge" ? "the indicator" : gauge.name} on trial`;
  const turn = Array.from({ length: rounds }, (_, i) => i + 1);
  const sheet = openSheet(
    [...openingLines(given, title), ["reader"], ["tolerance"]],
    ["place", "repeat", `value/${zUnit}`],
    turn.flatMap((round) => places.map((place) => [place, round, ""])),
  );
  const form = paperForm(
    {
      title,
      caution: caution("while the indicator is in the spindle", measuringCautions),
      known: `${places.length} places of the table, marked with a pencil cross and spread over its heights; gauge: ${gauge.name}, resolution ${asWritten["gauge resolution"]}`,
      protocol: [
        ["stand", "left alone throughout"],
        ["zeroed", "once, at the first place of the first round"],
        ["places", `${places.length}, off slots and edges`],
        ["top wiped", "at each round"],
        ["stylus preloaded", "so that lows read; by how much"],
        ["approach", "from the same side throughout; which"],
        ["earlier rounds", "covered: nobody looks while reading"],
        ["temperature", "from … to …, °C"],
      ],
      lists: [
        {
          title: `${title}: readings`,
          printed: ["no.", "place"],
          written: [`reading/${unitOnPaper(zUnit)}`, "note"],
          blocks: turn.map((round) => ({
            text: `Round ${round} of ${rounds}: wipe the top and the stylus first`,
            rows: places.map((place, i) => [String((round - 1) * places.length + i + 1), place]),
          })),
        },
      ],
    },
    paper,
  );
  return {
    sheets: [{ suffix: "", text: sheet, words: `${places.length} places, ${rounds} times round` }],
    paper: form.document,
    cells: [
      openingCell({
        name,
        title,
        question: "How far does the indicator repeat on my table, and what change could it prove?",
        sheets: [{ suffix: "" }],
        fill: "the lines above the heading, and a reading in each row, in the order they were taken.",
        notCovered:
          "What another day, another set-up or another person does: *add the rows of another day with a column `day` before `repeat` (chapter 1).* The trial sees how the indicator repeats, not whether its scale is right; that is its maximum permissible error.",
      }),
      code(`import { ${["caution", ...(units === "inch" ? ["displayIn"] : []), "facing", "finding", "smallestChange", "survey", "versions", "whenFilled"].join(", ")} } from "dialbook";

caution("before you measure", facing.measuringCautions)`),
      ...(units === "inch" ? [code('displayIn("inch")')] : []),
      text("## How far does it repeat? (1)"),
      code(`const trial = whenFilled(${JSON.stringify(`../data/${name}.csv`)}, (path) => survey.readGaugeStudy(path));
trial`),
      text("## What change could it prove? (1)\n\n*Fill this in: how many places your survey of the table has.*"),
      code(`// fill this in: places of the survey
const places = 60;
const apart = whenFilled(trial, ({ repeatability: { standardDeviation, degreesOfFreedom } }) =>
  smallestChange(standardDeviation, { degreesOfFreedom, places }));
apart`),
      text("## What I take away"),
      code(
        `whenFilled(trial, ({ repeatability }) => finding(\`left standing the gauge repeats within \${repeatability.standardDeviation${textIn(units)}} (one standard deviation): read a table in one go\`))`,
      ),
      code("versions(trial)"),
    ],
  };
}
