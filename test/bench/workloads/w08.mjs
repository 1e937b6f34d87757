import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { checksumOfBytes, surveySheet } from "../generate.mjs";

/** A sheet under foreign headings, from the disk to count, mean and standard deviation at each place. */
export default {
  id: "W8",
  variant: "survey-csv",
  against: { python: "w08_survey_csv.py", variant: "pandas", ratio: 1 },
  sizes: [1e4, 1e5],
  relative: 1e-11,
  uses: ["survey", "quantity"],
  expected: JSON.parse(readFileSync(new URL("../expected/w08.json", import.meta.url), "utf8")),

  make(size) {
    const bytes = Buffer.from(surveySheet(808, size / 50, 50));
    const folder = mkdtempSync(join(tmpdir(), "survey-"));
    process.once("exit", () => rmSync(folder, { recursive: true }));
    const path = join(folder, "survey.csv");
    writeFileSync(path, bytes);
    return { inputs: path, checksum: checksumOfBytes(bytes) };
  },

  run(path, { survey, quantity }) {
    const length = (heading, unit) => ({ heading, unit });
    const sheet = survey.readSurvey(path, {
      columns: {
        place: "point",
        x: length("x_mm", "mm"),
        y: length("y_mm", "mm"),
        z: length("z_um", "um"),
        pass: "run",
        temperature: length("temp_c", "degC"),
      },
      frame: { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" },
      gauge: survey.gauge({ resolution: quantity.um(0.001), maximumPermissibleError: quantity.um(4) }),
    });
    return sheet.byPlace();
  },

  result(statistics) {
    const places = statistics.toArray().map(({ count, mean, standardDeviation }) => ({
      count,
      mean: mean.in("um"),
      s: standardDeviation.in("um"),
    }));
    const sum = (of) => places.reduce((total, place) => total + of(place), 0);
    return {
      places: places.length,
      readings: sum(({ count }) => count),
      sum_mean: sum(({ mean }) => mean),
      sum_s: sum(({ s }) => s),
      greatest_s: places.reduce((most, { s }) => Math.max(most, s), 0),
      first_mean: places[0].mean,
      first_s: places[0].s,
    };
  },
};
