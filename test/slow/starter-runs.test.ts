import { mkdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { beforeAll, expect, it } from "vitest";
import type { CodeCell } from "../../kernel-lib/src/kernel/notebook.js";
import { runNotebook } from "../../kernel-lib/src/kernel/runner.js";
import { starter } from "../../kernel-lib/src/kernel/starter.js";
import { starterOptions } from "../../kernel-lib/src/kernel/starter-answers.js";
import { built, scratch } from "../kernel/workplace.js";

beforeAll(built);

/** what the cells show, as text, after a run of the starter with this sheet */
async function shownWith(made: (sheet: string) => string): Promise<readonly string[]> {
  const folder = scratch();
  const { notebook, sheet } = starter(
    starterOptions({ name: "mine", table: '20 x 9"', resolution: "0.0005 in", error: "0.001 in" }),
  );
  const path = join(folder, "notebooks", "mine.ipynb");
  for (const part of [dirname(path), join(folder, "data")]) mkdirSync(part);
  writeFileSync(path, notebook);
  writeFileSync(join(folder, "data", "mine.csv"), made(sheet));
  const ran = await runNotebook({ path, outputFolder: join(folder, "build") });
  expect(ran.failure).toBeUndefined();
  const cells = ran.notebook.cells.filter((cell): cell is CodeCell => cell.cell_type === "code");
  return cells.flatMap(({ outputs }) =>
    outputs.map((output) => ("data" in output ? String(output.data["text/plain"]) : JSON.stringify(output))),
  );
}

it("a new notebook runs at once on its blank sheet and says what to fill in", async () => {
  const shown = await shownWith((sheet) => sheet);
  expect(shown.filter((text) => /fill this in|no reading yet/i.test(text)).length).toBeGreaterThan(3);
  expect(shown.join("\n")).not.toMatch(/NaN|undefined/);
});

it("runs to a figure and a verdict once the sheet is filled in, in inches", async () => {
  // a hollow of 2 thou along x, one reading a pass apart by half a thou
  const filled = (sheet: string) =>
    sheet
      .split("\n")
      .map((line) => {
        const row = /^([^#,]+),([\d.]+),([\d.]+),,(\d+),(.*)$/.exec(line);
        if (row === null) return line;
        const [, place, x = "", y, pass, rest] = row;
        const z = 2 * ((Number(x) - 10) / 10) ** 2 + (pass === "2" ? 0.5 : 0);
        return `${place},${x},${y},${(Math.round(z * 2) / 2).toString()},${pass},${rest}`;
      })
      .join("\n");
  const all = (await shownWith(filled)).join("\n");
  expect(all).toMatch(/flatness[^\n]* thou ± [^\n]* thou/i);
  expect(all).toMatch(/conforms|not decided|does not conform/);
});
