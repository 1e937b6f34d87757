import { caution } from "../../display/caution.js";
import { paperForm } from "../../display/paper-form.js";
import { warmUpCautions } from "../../facing/index.js";
import { code, text } from "../starter-parts.js";
import { inInches, type StarterAnswers, wholeNumber } from "./answers.js";
import { commonOf, openingLines, openSheet, unitOnPaper } from "./common.js";
import { openingCell } from "./words.js";
import { type Begun, commonKeys, indicatorKeys, type Work } from "./work.js";

/** The spindle as it warms: quick readings at first, then slower. */
export const warmUpWork: Work = {
  summary: "the spindle as it warms up: how far it grows, how long to wait",
  needs: ["resolution", "error"],
  takes: [...commonKeys, ...indicatorKeys, "hours"],
  begin,
};

function begin(answers: StarterAnswers): Begun {
  const given = commonOf(answers, inInches(answers.resolution));
  const hours = wholeNumber("hours", answers.hours ?? "3", [1, 12]);
  const { name, machine, zUnit, units, paper, gauge, asWritten } = given;
  const title = `${machine}: the spindle warms up`;
  const degree = units === "inch" ? "degF" : "degC";
  const minutes = momentsOf(60 * hours);
  const sheet = openSheet(
    [...openingLines(given, title), ["spindle"], ["note", "nose: growth towards the table"]],
    ["time/min", `nose/${zUnit}`, `headstock/${degree}`, `room/${degree}`, "note"],
    minutes.map((minute) => [minute, "", "", "", ""]),
  );
  const form = paperForm(
    {
      title,
      caution: caution("while the spindle warms up", warmUpCautions),
      known: `indicator on the table against the nose, minutes from the start of the spindle; gauge: ${gauge.name}, resolution ${asWritten["gauge resolution"]}`,
      protocol: [
        ["spindle", "which speed, without load; how long it had stood"],
        ["each reading", "spindle stopped and isolated, indicator put to the same spot"],
        ["zeroed", "once, before the first start"],
        ["stand", "left on the table throughout, out of reach of the spindle"],
        ["headstock", "where its thermometer sits"],
        ["room", "at the height of the table"],
        ["doors, sun, heater", "as they were; what changed"],
        ["other axes", "locked; Z left where it stands"],
      ],
      lists: [
        {
          title: `${title}: readings`,
          printed: ["after/min"],
          written: [`nose/${unitOnPaper(zUnit)}`, `headstock/${onPaper[degree]}`, `room/${onPaper[degree]}`],
          blocks: [{ rows: minutes.map((minute) => [String(minute)]) }],
        },
      ],
    },
    paper,
  );
  const small = units === "inch" ? "tenth(1)" : "um(2)";
  return {
    sheets: [{ suffix: "", text: sheet, words: `${minutes.length} moments in ${hours} h` }],
    paper: form.document,
    cells: [
      openingCell({
        name,
        title,
        question:
          "How far does the spindle grow as it warms, and how long is to be waited before a survey or a finishing cut?",
        sheets: [{ suffix: "" }],
        fill: "the lines above the heading, and what was read at each time. Write the minute at which you read in place of the planned one; a cell left blank was not read.",
        notCovered: "Another speed, another season: *fill this in.*",
      }),
      code(`import { ${["caution", ...(units === "inch" ? ["displayIn"] : []), "facing", "figure", "finding", "heat", "minutes", "note", ...(units === "inch" ? ["tenth"] : ["um"]), "versions", "whenFilled"].sort().join(", ")} } from "dialbook";

caution("while the spindle warms up", facing.warmUpCautions)`),
      ...(units === "inch" ? [code('displayIn("inch")')] : []),
      text("## How far does the nose grow, how quickly does it settle? (3)"),
      code(`const record = whenFilled(${JSON.stringify(`../data/${name}.csv`)}, heat.readWarmUp);
const nose = whenFilled(record, (record) => record.growth("nose"));
nose`),
      text("## How long to wait? (3)"),
      code(`const wait = whenFilled(nose, (nose) => nose.waitUntilRate({ change: ${small}, per: minutes(30) }));
whenFilled(wait, (wait) => note(String(wait)))`),
      code(`whenFilled(record, (record) =>
  record.thermometers.includes("headstock") ? figure.settlingCurve(record.temperature("headstock")) : note("no thermometer on the headstock"))`),
      text("## What I take away"),
      code(`whenFilled(wait, (wait) => finding(\`wait \${wait.time} at speed before a survey or a finishing cut\`))`),
      code("versions(record)"),
    ],
  };
}

const onPaper = { degC: "°C", degF: "°F" } as const;

/** every five minutes for half an hour, every ten to an hour and a half, then every quarter of an hour */
function momentsOf(last: number): readonly number[] {
  const made: number[] = [];
  for (let at = 0; at <= last; at += at < 30 ? 5 : at < 90 ? 10 : 15) made.push(at);
  return made;
}
