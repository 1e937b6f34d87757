import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, expect, it } from "vitest";
import type { CodeCell } from "../../kernel-lib/src/kernel/notebook.js";
import { runNotebook } from "../../kernel-lib/src/kernel/runner.js";
import type { StarterAnswers } from "../../kernel-lib/src/kernel/starters/answers.js";
import { begin } from "../../kernel-lib/src/kernel/starters/index.js";
import { built, scratch } from "../kernel/workplace.js";

beforeAll(built);

const dial = { resolution: "1 um", error: "3 um" };

type Row = readonly string[];
/** what stands in the blank cell of a row */
type Fill = (row: Row, suffix: string, index: number) => string;

/** a sheet with its column of readings filled in */
function filled(text: string, suffix: string, fill: Fill): string {
  const lines = text.split("\n");
  const first = lines.findIndex((line) => !line.startsWith("#"));
  const heading = lines[first]!.split(",");
  const at = heading.findIndex((cell) => /^(reading|deviation|value|nose)\//.test(cell));
  return lines
    .map((line, i) => {
      if (i <= first || line === "") return line;
      const row = line.split(",");
      row[at] = fill(row, suffix, i - first - 1);
      return row.join(",");
    })
    .join("\n");
}

/** what the cells show, as text, after a run of the new notebook; its sheets filled in where it is said how */
async function shown(answers: Omit<StarterAnswers, "name">, fill?: Fill): Promise<string> {
  const folder = scratch();
  const made = begin({ name: "mine", ...answers });
  for (const part of ["notebooks", "data"]) mkdirSync(join(folder, part));
  const path = join(folder, "notebooks", "mine.ipynb");
  writeFileSync(path, made.notebook);
  for (const { suffix, text } of made.sheets) {
    const said = fill
      ? filled(text, suffix, fill).replace("# pull:", "# pull: upward, 200 lbf").replace("release:", "release: 0 thou")
      : text;
    writeFileSync(join(folder, "data", `mine${suffix}.csv`), said);
  }
  const ran = await runNotebook({ path, outputFolder: join(folder, "build") });
  expect(ran.failure).toBeUndefined();
  const cells = ran.notebook.cells.filter((cell): cell is CodeCell => cell.cell_type === "code");
  return cells
    .flatMap(({ outputs }) =>
      outputs.map((output) => ("data" in output ? String(output.data["text/plain"]) : JSON.stringify(output))),
    )
    .join("\n");
}

const axis = { for: "axis", axis: "X", travel: "5 mm to 505 mm", reference: "gauge blocks", lead: "5 mm", ...dial };
const axisZ = {
  for: "axis",
  axis: "Z",
  travel: "0 to 6 in",
  reference: "glass scale",
  resolution: "0.0001 in",
  error: "0.0002 in",
};
const head = { for: "head", radius: "100 mm", ...dial };
const square = { for: "square", legs: "8 in", resolution: "0.0001 in", error: "0.0002 in" };
const levels = { for: "levels", table: "520 mm x 230 mm", foot: "80 mm", resolution: "4 um/m", error: "10 um/m" };
const gauge = { for: "gauge", ...dial };
const warmUp = { for: "warm-up", ...dial };

it.each([axis, axisZ, head, square, levels, gauge, warmUp])(
  "a new notebook for $for runs at once on its blank sheets and says what to fill in",
  async (answers) => {
    const text = await shown(answers);
    expect(text).toContain("has no reading yet: fill in the column");
    expect(text).toContain("CAUTION:");
    expect(text).not.toMatch(/NaN|undefined/);
  },
);

/** a ladder of 12 rungs up and down: what play holds back on the way down */
const ladder = (play: number, rung: number) => (row: Row, index: number) =>
  String(index > 12 ? Math.min(12 * rung, Number(row[0]) + play) : Number(row[0]));
/** a scatter of one unit each way that is the same each time */
const scatter = (index: number) => ((index * 7) % 3) - 1;

it("an axis with 80 µm/m of pitch and 9 µm of play is told so, and what to set", async () => {
  const text = await shown(axis, (row, suffix, index) =>
    suffix === "-small-moves"
      ? ladder(9, 5)(row, index)
      : String(Math.round(0.08 * (Number(row[0]) - 5) + (row[1] === "down" ? 9 : 0) + scatter(index))),
  );
  expect(text).toMatch(/slope (79|80|81)(\.\d)? µm\/m ± /);
  expect(text).toMatch(/play (8|9)\.\d µm ± /);
  expect(text).toMatch(/set a lost motion of (8|9)\.\d µm/);
  expect(text).toMatch(/X stands within 5\d\.\d µm ± .* of its commands; with lost motion and pitch set \d\.\d µm ± /);
});

it("Z in inches is shown its lift under the pull", async () => {
  const text = await shown(axisZ, (row, suffix, index) => {
    if (suffix === "") return String(Math.round(scatter(index)) / 10);
    const shift = suffix === "-pulled" ? 0.6 : 0;
    return (Number(ladder(suffix === "-pulled" ? 4 : 5, 2)(row, index)) / 10 + shift).toFixed(1);
  });
  expect(text).toMatch(/Z as it hangs and pulled up by [\d.]+ lbf: lift 0\.500 thou/);
  expect(text).not.toMatch(/NaN|undefined|\d µm\b/);
});

it("a head that leans by 120 µm/m to the right is told so", async () => {
  const text = await shown(head, ([angle], _, index) =>
    String(Math.round(-12 * Math.cos((Number(angle) * Math.PI) / 180)) + (index % 8 === 3 ? 1 : 0)),
  );
  expect(text).toMatch(/the top of the head leans 1[12]\d µm\/m ± /);
});

it("axes that open by 50 µm/m are told so, in inches, whatever the square is", async () => {
  // thou along the leg in inches; the square's own error of 30 µm/m falls out as it is turned over
  const text = await shown(square, ([leg, way, at]) =>
    leg === "first" ? "0" : (Number(at) * (-0.05 + (way === "as laid" ? 0.03 : -0.03))).toFixed(2),
  );
  expect(text).toMatch(/X and Y open by 0\.(5[6-9]|6[0-4])\d* thou\/ft ± /);
});

it("a table that is hollow by level is told how far", async () => {
  // 10 µm over 480 mm: slopes of a parabola in whole divisions of 4 µm/m, rows alike
  const text = await shown(levels, ([line = "", step, way]) => {
    const along = line.startsWith("row") ? ((4 * 10) / 0.48) * ((2 * (Number(step) - 0.5)) / 6 - 1) : 0;
    return String((way === "turned" ? -1 : 1) * 4 * Math.round(along / 4));
  });
  expect(text).toMatch(/the table by level: (9|10)\.\d+ µm ± .* minimum zone/);
});

it("a gauge that repeats within a micrometre is told so", async () => {
  const text = await shown(gauge, ([place = ""], _, index) =>
    String(Number(place.slice(1)) + (Math.floor(index / 10) === 1 ? scatter(index) : 0)),
  );
  expect(text).toMatch(/left standing the gauge repeats within 0\.\d+ µm/);
});

it("a spindle that settles with 40 min is told how long to wait", async () => {
  const text = await shown(warmUp, ([minute]) => String(Math.round(20 * (1 - Math.exp(-Number(minute) / 40)))));
  expect(text).toMatch(/wait \d+(\.\d)? min ± \d+(\.\d)? min/);
});
