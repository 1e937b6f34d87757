import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { readSurvey } from "../../kernel-lib/src/survey/index.js";
import { scratch } from "../kernel/workplace.js";

const mb = (bytes: number): number => Math.round(bytes / 1e5) / 10;

it("a survey of a million rows is read, and its map is what the rows say", () => {
  const [side, passes] = [100, 100];
  const path = join(scratch(), "million.csv");
  writeFileSync(path, surveyText(side, passes));
  const started = performance.now();
  const survey = readSurvey(path);
  const { places } = survey.surface();
  const seconds = (performance.now() - started) / 1000;
  console.log(`${side * side * passes} rows in ${seconds.toFixed(1)} s, ${mb(process.memoryUsage().rss)} MB`);
  expect(places).toHaveLength(side * side);
  const corner = places.find(({ label }) => label === `P${side - 1}-${side - 1}`)!;
  // every pass reads (column + row) − 1, + 0 or + 1 µm by turns
  expect(corner.zUm).toBeCloseTo(2 * (side - 1) - 1 / passes, 6);
}, 300_000);

/** a square grid of places, each read in every pass: column + row in µm, one less, right, one more by turns */
function surveyText(side: number, passes: number): string {
  const lines = [
    "# relative to: travel\n# front: y-\n# +x: right\n# +y: back",
    "# gauge resolution: 1 um\n# gauge maximum permissible error: 4 um",
    "place,x/mm,y/mm,z/um,pass",
  ];
  for (let pass = 1; pass <= passes; pass++) {
    for (let row = 0; row < side; row++) {
      for (let column = 0; column < side; column++) {
        const z = column + row + (passes === 1 ? 0 : ((pass - 1) % 3) - 1);
        lines.push(`P${column}-${row},${column * 5},${row * 5},${z},${pass}`);
      }
    }
  }
  return `${lines.join("\n")}\n`;
}
