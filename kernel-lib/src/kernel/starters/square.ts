import { caution } from "../../display/caution.js";
import { paperForm } from "../../display/paper-form.js";
import { axisTestCautions } from "../../facing/index.js";
import { code, text } from "../starter-parts.js";
import { inInches, length, needed, refuse, type StarterAnswers } from "./answers.js";
import { commonOf, openingLines, openSheet, unitOnPaper } from "./common.js";
import { openingCell, textIn } from "./words.js";
import { type Begun, commonKeys, indicatorKeys, type Work } from "./work.js";

const legs = ["first", "second"] as const;
const ways = ["as laid", "turned over"] as const;
const placesALeg = 6;

/** A square: the angle of two axes, the square turned over so that its own error falls out. */
export const squareWork: Work = {
  summary: "two axes to each other, with a square that is turned over",
  needs: ["legs", "resolution", "error"],
  takes: [...commonKeys, ...indicatorKeys, "legs"],
  begin,
};

function begin(answers: StarterAnswers): Begun {
  const written = needed(answers, "legs");
  const leg = length("legs", written);
  if (leg.in("mm") < 20)
    refuse(`--legs "${written}" is too short to read six places along; use a leg of 20 mm or more`);
  const given = commonOf(answers, inInches(written));
  const { name, machine, zUnit, units, paper, gauge, asWritten } = given;
  const title = `${machine}: Y to X`;
  const [unit, step] = units === "inch" ? (["in", 0.1] as const) : (["mm", 5] as const);
  const margin = step * Math.ceil((0.05 * leg.in(unit)) / step);
  const at = Array.from({ length: placesALeg }, (_, i) => {
    const even = margin + ((leg.in(unit) - 2 * margin) * i) / (placesALeg - 1);
    return String(Number(unit === "in" ? even.toFixed(1) : Math.round(even).toString()));
  });
  const groups = ways.flatMap((way) => legs.map((leg) => ({ way, leg })));
  const sheet = openSheet(
    [...openingLines(given, title), ["square"], ["square within"], ["signs", signs]],
    ["leg", "way", `at/${unit}`, `reading/${zUnit}`, "note"],
    groups.flatMap(({ leg, way }) => at.map((place) => [leg, way, place, "", ""])),
  );
  const form = paperForm(
    {
      title,
      caution: caution("while an axis is driven to and fro", axisTestCautions),
      known: `the first leg along X, the second along Y; ${signs}; gauge: ${gauge.name}, resolution ${asWritten["gauge resolution"]}`,
      protocol: [
        ["square", "which; cleaned, burrs looked for"],
        ["laid", "on three bits of the same foil, held lightly"],
        ["first leg", "set along X until both ends read alike, or nearly"],
        ["left alone", "between the two legs of one way"],
        ["turned over", "about its first leg for the second half"],
        ["gibs", "as in the cut, the same throughout"],
        ["other axes", "locked"],
        ["temperature", "square and table soaked together, °C"],
      ],
      lists: [
        {
          title: `${title}: readings`,
          printed: ["no.", `at/${unit}`],
          written: [`reading/${unitOnPaper(zUnit)}`, "note"],
          blocks: groups.map(({ leg, way }, g) => ({
            text: `${leg} leg, ${way}`,
            rows: at.map((place, i) => [String(g * placesALeg + i + 1), place]),
          })),
        },
      ],
    },
    paper,
  );
  const over = units === "inch" ? `inch(${Number(leg.in("in").toFixed(2))})` : `mm(${Math.round(leg.in("mm"))})`;
  return {
    sheets: [{ suffix: "", text: sheet, words: `${groups.length * placesALeg} readings along two legs, both ways` }],
    paper: form.document,
    cells: [
      openingCell({
        name,
        title,
        question: "Are the two axes square to each other, and by how much do they open or close?",
        sheets: [{ suffix: "" }],
        fill: "the lines above the heading, and a reading in each row; delete the rows `turned over` only where `# square within:` says how square your square is.",
        notCovered: "Z to X and to Y: *the same with the square upright, a sheet for each.*",
      }),
      code(`import { ${["caution", ...(units === "inch" ? ["displayIn"] : []), "facing", "finding", "form", units === "inch" ? "inch" : "mm", "versions", "whenFilled"].join(", ")} } from "dialbook";

caution("before you measure", facing.axisTestCautions)`),
      ...(units === "inch" ? [code('displayIn("inch")')] : []),
      text("## Is Y square to X? (4)"),
      code(`const square = whenFilled(${JSON.stringify(`../data/${name}.csv`)}, form.readSquare);
const found = whenFilled(square, form.squareness);
found`),
      text("## How much is that over a part?"),
      code(`whenFilled(found, (found) => found.over(${over}))`),
      text("## What I take away"),
      code(`whenFilled(found, (found) => finding(\`X and Y open by \${found.angle${textIn(units)}} more than 90°\`))`),
      code("versions(square)"),
    ],
  };
}

const signs = "positive where the leg, going along it, bends counter-clockwise off the motion seen from above";
