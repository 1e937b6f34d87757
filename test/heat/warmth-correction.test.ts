import { describe, expect, it } from "vitest";
import { correctedForWarmth, settling } from "../../kernel-lib/src/heat/index.js";
import { hours, minutes, parseSurvey, um } from "../../kernel-lib/src/index.js";
import { degC } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";
import { grown, height, warmSurvey } from "./warm-survey.js";

const truth = { riseUm: 22, tauMin: 30, startMin: 5, noiseUm: 0 };
const at = [0, 2, 5, 8, 12, 16, 20, 25, 30, 36, 42, 50, 60, 75, 90, 120];
const curve = settling({ name: "nose", times: at.map(minutes), values: at.map((t) => um(grown(truth, t))) });

describe("a survey taken while the machine warms up", () => {
  it("has each reading put right by its time: the form comes back and the datum returns show no drift", () => {
    const survey = warmSurvey(truth, 1);
    const found = correctedForWarmth({ survey, curve, recordStart: minutes(0), heights: "raised" });
    const { places, drift } = found.surface;
    for (const place of places) {
      const [x, y] = [place.xMm, place.yMm];
      expect(Math.abs(place.zUm - (height(x, y) - height(0, 0)))).toBeLessThan(0.3);
    }
    expect(drift!.model).toBe("none seen");
    expect(survey.surface().drift!.model).not.toBe("none seen");
    const last = found.toArray().at(-1)!;
    expect(last.growth.in("um")).toBeCloseTo(grown(truth, last.time.in("min")) - grown(truth, 5), 6);
    expect(found.change.in("um")).toBe(last.growth.in("um"));
    expect(found.surface.done!.join(" ")).toContain("the growth of nose was taken out by the time of each reading");
  });

  it("does the same by the clock, and with a gauge that counts the other way", () => {
    const plain = correctedForWarmth({
      survey: warmSurvey(truth, 1),
      curve,
      recordStart: minutes(0),
      heights: "raised",
    });
    const clock = correctedForWarmth({
      survey: warmSurvey(truth, 1, true, -1),
      curve,
      recordStart: hours(19),
      heights: "raised",
    });
    clock.surface.places.forEach((place, i) => {
      expect(place.zUm).toBeCloseTo(plain.surface.places[i]!.zUm, 6);
    });
  });

  it("shares the doubt of the curve among the heights as the growths share it, and that of the record's gauge where given", () => {
    const noisy = settling({
      name: "nose",
      times: at.map(minutes),
      values: at.map((t, i) => um(grown(truth, t) + 0.8 * Math.sin(5.3 * i * i))),
      timeConstants: 1,
    });
    const survey = warmSurvey(truth, 1);
    const spec = { survey, curve: noisy, recordStart: minutes(0), heights: "raised" } as const;
    const found = correctedForWarmth(spec);
    const variance = (modes: readonly (readonly number[])[], i: number) =>
      modes.reduce((sum, mode) => sum + mode[i]! ** 2, 0);
    const modes = found.surface.drift!.modesUm;
    const i = found.surface.places.findIndex(({ label }) => label === "C7");
    const both = found.toArray().filter(({ place }) => place === "C7");
    const mean = both[0]!.growth.plus(both[1]!.growth).times(0.5).standardUncertainty.in("um");
    // t of 13 degrees of freedom over the normal: 2.1604/1.9600
    expect(Math.sqrt(variance(modes, i))).toBeGreaterThanOrEqual(mean * (2.1604 / 1.96) * 0.9999);
    const withGauge = correctedForWarmth({ ...spec, gauge: survey.gauge });
    expect(variance(withGauge.surface.drift!.modesUm, i)).toBeGreaterThan(variance(modes, i));
    expect(withGauge.notes.length).toBe(found.notes.length - 1);
    expect(found.notes.join("; ")).toMatch(/the error of the record's own gauge is not in the doubt/);
  });

  it("says how many readings came after the record", () => {
    const short = settling({
      name: "nose",
      times: at.slice(0, 10).map(minutes),
      values: at.slice(0, 10).map((t) => um(grown(truth, t))),
    });
    const found = correctedForWarmth({
      survey: warmSurvey(truth, 2),
      curve: short,
      recordStart: minutes(-8),
      heights: "raised",
    });
    expect(found.notes[1]).toBe(
      "7 of 54 readings came after the end of the record, up to 4 min: there it rests on the curve alone",
    );
  });

  it("refuses, whole sentences", () => {
    const lines = ["# relative to: travel", "# front: y-", "# +x: right", "# +y: back", "# gauge resolution: 1 um"];
    lines.push("# gauge maximum permissible error: 3 um", "place,x/mm,y/mm,z/um,pass", "A1,0,0,1,1", "A2,50,0,2,1");
    const untimed = parseSurvey(lines.join("\n"), { name: "table.csv" });
    const survey = warmSurvey(truth, 1);
    const rest = { curve, recordStart: minutes(0), heights: "raised" } as const;
    expect(refusal(() => correctedForWarmth({ survey: untimed, ...rest })).message).toBe(
      "table.csv: not every reading has a time; what grew meanwhile can be taken out by the time of each reading only: read with a column time, or let the datum returns tell the drift",
    );
    expect(refusal(() => correctedForWarmth({ survey, ...rest, recordStart: minutes(25) })).message).toBe(
      "pasted sheet: datum, pass 1 was read 20 min before the first reading of the record of nose; give recordStart as the sheet counts its times (from the start), or record the growth from before the survey on",
    );
    const warm = settling({
      name: "head",
      times: at.map(minutes),
      values: at.map((t) => degC(20 + grown(truth, t) / 4)),
    });
    expect(refusal(() => correctedForWarmth({ survey, ...rest, curve: warm as never })).message).toBe(
      "correctedForWarmth: head is a curve of a temperature difference that starts at 0 min; give a curve of growth and a time",
    );
    expect(refusal(() => correctedForWarmth({ survey, ...rest, heights: "up" as never })).message).toBe(
      'correctedForWarmth: heights are "up"; write "raised" where the growth pushes the stylus in, else "lowered"',
    );
  });
});
