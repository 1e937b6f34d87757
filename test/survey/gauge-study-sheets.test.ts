import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";
import { parseGaugeStudy, readGaugeStudy } from "../../kernel-lib/src/survey/index.js";
import { refusal } from "../refusal.js";

const folder = new URL("../../data/", import.meta.url);
const path = (name: string) => fileURLToPath(new URL(name, folder));
const { gauge: truth } = JSON.parse(readFileSync(new URL("truth.json", folder), "utf8")) as {
  readonly gauge: {
    readonly repeatUm: number;
    readonly dayOffsetsUm: { readonly [day: string]: number };
    readonly lever: { readonly stepUm: number; readonly angleDeg: number };
  };
};

describe("the club's gauge sheets", () => {
  it("say from which file they come, and which gauge was used", () => {
    const study = readGaugeStudy(path("gauge-one-evening.csv"));
    expect(study.file?.state).toBe("closed on 2026-10-09");
    expect(study.name).toBe("ten places, one evening");
    expect(study.gauge?.maximumPermissibleError.in("um")).toBeCloseTo(4, 12);
    expect(study.notes).toContain(
      "one operator only: what operators differ by (AV) is not tested, and GRR holds the repeats alone",
    );
  });

  it("give the planted repeats back within the limits of their degrees of freedom, 99.9 %", () => {
    // √(χ²/ν) for 20 and 78 degrees of freedom, tables of the chi-squared distribution, 0.05 % either side
    const evening = readGaugeStudy(path("gauge-one-evening.csv")).repeatability;
    const days = readGaugeStudy(path("gauge-three-days.csv")).repeatability;
    // the step of 1 µm that is read adds 1/12 µm²
    const planted = Math.sqrt(truth.repeatUm ** 2 + 1 / 12);
    expect(evening.standardDeviation.in("um") / planted).toBeGreaterThan(0.52);
    expect(evening.standardDeviation.in("um") / planted).toBeLessThan(1.56);
    expect(days.standardDeviation.in("um") / planted).toBeGreaterThan(0.75);
    expect(days.standardDeviation.in("um") / planted).toBeLessThan(1.28);
  });

  it("give back what the days were planted to differ by", () => {
    const offsets = Object.values(truth.dayOffsetsUm);
    const mean = offsets.reduce((sum, one) => sum + one, 0) / offsets.length;
    const s = Math.sqrt(offsets.reduce((sum, one) => sum + (one - mean) ** 2, 0) / (offsets.length - 1));
    // each day's mean of 30 readings has u = 0.95/√30 = 0.17 µm
    const found = readGaugeStudy(path("gauge-three-days.csv")).chosen.of("AV")!.standardDeviation.in("um");
    expect(Math.abs(found - s)).toBeLessThan(3.3 * 0.17);
  });

  it("show an inclined lever as its cosine says", () => {
    const study = readGaugeStudy(path("gauge-lever.csv"));
    const mean = (part: string) =>
      study.readingsOf(part).reduce((sum, value) => sum + value.in("um"), 0) / study.repeats;
    const { stepUm, angleDeg } = truth.lever;
    expect(Math.abs(mean("flat") - stepUm)).toBeLessThan(1);
    expect(Math.abs(mean("inclined") * Math.cos((angleDeg * Math.PI) / 180) - stepUm)).toBeLessThan(1);
  });
});

describe("a sheet of a gauge study", () => {
  const rows = "place,value/um\nA1,3\nA1,4\nB4,-6\nB4,-6";

  it("that begins to name a gauge has to say enough of it", () => {
    expect(refusal(() => parseGaugeStudy(`# gauge: dial\n${rows}`))).toEqual({
      code: "gauge-missing",
      message:
        'pasted study: the sheet does not say which gauge was used; write above the heading "# gauge resolution: 1 µm" and "# gauge maximum permissible error: 4 µm", or give a gauge in code',
    });
  });

  it("is asked for a reading of a place that it has not", () => {
    expect(refusal(() => parseGaugeStudy(rows).readingsOf("C9"))).toEqual({
      code: "study-cell",
      message: "gaugeStudy: there is no place C9 read by the one operator",
    });
  });

  it("that is not on the disk is named", () => {
    expect(refusal(() => readGaugeStudy(path("gauge-two-evenings.csv"))).code).toBe("no-such-file");
  });
});
