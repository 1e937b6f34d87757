// Writes the pictures of the README from the closed data: `npm run pictures`; with --check it only compares.
import { existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

const project = dirname(dirname(dirname(fileURLToPath(import.meta.url))));
const { axis, figure, form, heat, minutes, newton, readSurvey, um } = createRequire(import.meta.url)(
  "../dist/index.js",
);

function pictures() {
  const sheet = readSurvey(join(project, "data", "table-before.csv"));
  const flat = form.flatness(sheet.withoutReading("D9", 1, "swarf"));
  const title = "The club's table as found (invented data)";
  const data = (name) => join(project, "data", name);
  const clean = sheet.withoutReading("D9", 1, "swarf");
  const surface = form.surface(clean.surface());
  const invented = (what) => `${what} (invented data)`;
  return {
    "a-slipped-stand.svg": figure.passDifferences(readSurvey(data("odd-second.csv"))).still,
    "corner-map.svg": figure.heightMap(readSurvey(data("corner-check-grid.csv")).surface(), {
      title: invented("The dent at the left front"),
    }).still,
    "between-the-points.svg": figure.surfaceChance(surface.chanceAbove(um(10))).still,
    "form-made-of.svg": figure.formBars(form.makeUp(clean)).still,
    "positioning-x.svg": figure.deviationPlot(axis.positioning(axis.readPositioning(data("positioning-x.csv")))).still,
    "z-lifted.svg": figure.liftPlot(
      axis.liftUnderPull({
        free: axis.readSmallMoves(data("ladder-z-free.csv")),
        pulled: axis.readSmallMoves(data("ladder-z-pulled.csv")),
        weight: newton(690),
      }),
    ).still,
    "spindle-warming.svg": figure.settlingCurve(
      heat.readWarmUp(data("warm-up-spindle.csv")).between(minutes(0), minutes(180)).growth("nose"),
    ).still,
    "plate-faced.svg": figure.residualMap(form.flatness(readSurvey(data("plate-faced.csv"))), {
      title: invented("The plate, faced in place"),
    }).still,
    "table-as-found-map.svg": figure.residualMap(flat, { title }).still,
    "table-as-found.svg": figure.residualSurface(flat, { title }).still,
  };
}

const folder = join(project, "notebooks", "pictures");
const check = process.argv.includes("--check");
mkdirSync(folder, { recursive: true });
const different = Object.entries(pictures()).filter(([name, svg]) => {
  const path = join(folder, name);
  const same = existsSync(path) && readFileSync(path, "utf8") === `${svg}\n`;
  if (!check) writeFileSync(path, `${svg}\n`);
  return !same;
});
if (check && different.length > 0) {
  process.stderr.write(
    `not as the data make them: ${different.map(([name]) => name).join(", ")}; run npm run pictures\n`,
  );
  process.exitCode = 1;
}
