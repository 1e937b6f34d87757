import { describe, expect, it } from "vitest";
import { deg, um } from "../../kernel-lib/src/quantity/index.js";
import { gauge } from "../../kernel-lib/src/survey/gauge.js";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";
import { refusal } from "../refusal.js";
import { head, inventSurvey } from "./invented-survey.js";

const small = `${head}# gauge resolution: 1 um\nplace,x/mm,y/mm,z/um,pass\nA1,0,0,3,1\nB1,50,0,-2,1\nC1,90,0,,1\nA1,0,0,5,2\nB1,50,0,-2,2\nC1,90,0,8,2\n`;

describe("a survey", () => {
  it("tells its content in one line", () => {
    expect(String(parseSurvey(small, { name: "bench.csv" }))).toBe(
      "bench.csv: 3 places against travel, 5 readings in 2 passes, 0 datum readings, 1 blank",
    );
  });

  it("gives a map in which a place missing from a pass is not lifted by that pass", () => {
    const { places, noise, done } = parseSurvey(small).surface();
    // pass 2 reads 1 µm higher at A1 and B1 together, so C1 comes down by half of it
    expect(places.map((p) => [p.label, p.zUm, p.count])).toEqual([
      ["A1", expect.closeTo(4, 6), 2],
      ["B1", expect.closeTo(-2, 6), 2],
      ["C1", expect.closeTo(7.5, 6), 1],
    ]);
    expect(noise.standardUncertaintyUm).toBeGreaterThanOrEqual(1 / Math.sqrt(12));
    expect(done).toContain("the passes were brought to one level before means were taken, as some places lack a pass");
  });

  it("sets a reading aside only with a reason, shows it, and keeps it on the sheet", () => {
    const survey = parseSurvey(small);
    const without = survey.withoutReading("A1", 2, "swarf under the stylus");
    expect(without.removed).toEqual([{ place: "A1", pass: 2, reason: "swarf under the stylus" }]);
    expect(without.readings()).toHaveLength(4);
    expect(survey.readings()).toHaveLength(5);
    expect(parseSurvey(without.toCsv()).withoutReading("B1", 1, "slip").removed).toHaveLength(2);
    expect(without.toCsv()).toContain("A1,0,0,5,2");
    expect(without.surface().done).toContain("A1, pass 2 was set aside: swarf under the stylus");
    expect(refusal(() => survey.withoutReading("A1", 2, " "))).toEqual({
      code: "reason",
      message: "withoutReading: A1, pass 2 has no reason; say why it is set aside",
    });
    expect(refusal(() => survey.withoutReading("C1", 1, "blank")).code).toBe("no-such-reading");
    expect(refusal(() => without.withoutReading("A1", 2, "again")).code).toBe("reason");
  });

  it("turns over when its sign was the other way round, and back", () => {
    const survey = parseSurvey(small);
    const heights = (s: typeof survey) => s.surface().places.map((p) => p.zUm);
    expect(heights(survey.flipped())).toEqual(heights(survey).map((z) => expect.closeTo(-z, 9)));
    expect(heights(survey.flipped().flipped())).toEqual(heights(survey));
    expect(survey.flipped().readings()).toEqual(survey.readings());
    expect(survey.flipped().toCsv()).toContain("# positive: surface stands low");
  });

  it("multiplies readings by the cosines of the gauge's angles and says so", () => {
    const lever = gauge({ resolution: um(1), maximumPermissibleError: um(4), leverAngle: deg(60) });
    const { places, done } = parseSurvey(small, { gauge: lever }).surface();
    expect(places[0]?.zUm).toBeCloseTo(2, 6);
    expect(done).toContain("readings were multiplied by 0.5000 for the sign and the angles of the gauge");
  });

  it("gives the same map from the same readings in inches", () => {
    const inch = small
      .replace("x/mm,y/mm,z/um", "x/in,y/in,z/thou")
      .replaceAll(/^([ABC]1),(\d+),0,(-?\d*)/gm, (_, p, x, z) => `${p},${Number(x) / 25.4},0,${z && Number(z) / 25.4}`);
    const round = (text: string) =>
      parseSurvey(text)
        .surface()
        .places.map((p) => [p.xMm.toFixed(6), p.zUm.toFixed(6)]);
    expect(round(inch)).toEqual(round(small));
  });

  it("carries everything through its own text", () => {
    const rich = small
      .replace(
        "place,x",
        "# Ground by: me, or so\n# zeroed: at each pass\n# travel x: -10 to 400 mm\n# gauge repeatability: 0.6 um with 9 degrees of freedom\n# gauge lever angle: 12 deg\n# date: 2026-10-17\n# vice: off, \n# temperature table: 17.5 °C\nplace,x",
      )
      .replace("z/um,pass", "z/um,pass,order,time,temperature/degF,approach,note")
      .replaceAll(/^([ABC]1.*)$/gm, '$1,9,19:05:07,64.5,+x,"a ""note"", with a comma"');
    const survey = parseSurvey(rich);
    const again = parseSurvey(survey.toCsv());
    expect(again).toEqual(survey);
    expect(again.toCsv()).toBe(survey.toCsv());
  });
});

describe("drift", () => {
  it("is not there without returns, and said to be untested", () => {
    expect(parseSurvey(small).surface().drift).toEqual({
      model: "not tested",
      statement: "the sheet has no datum returns; drift was not tested and nothing was taken out",
      modesUm: [],
    });
  });

  it("planted as a straight line is taken out to within the doubt that is claimed", () => {
    let inside = 0;
    for (let seed = 1; seed <= 60; seed++) {
      const law = { seed, scatter: 1, step: 0.1 };
      const map = parseSurvey(inventSurvey({ ...law, drift: 12 }).text).surface();
      const still = parseSurvey(inventSurvey(law).text).surface();
      // same seed, same scatter: the two maps differ by what was left of the drift
      expect(map.drift?.model).not.toBe("none seen");
      const error = map.places.map((p, i) => p.zUm - still.places[i]!.zUm);
      const span = error.at(-1)! - error[0]!;
      const u = Math.hypot(...map.drift!.modesUm.map((mode) => mode.at(-1)! - mode[0]!));
      if (Math.abs(span) <= 2 * u) inside++;
    }
    // about 57 of 60 for 95 %; 99.9 % band of the binomial law
    expect(inside).toBeGreaterThanOrEqual(50);
  });

  /** a clean sheet with a drift of its own added, by the share of the survey gone by */
  const drifting = (seed: number, by: (share: number) => number, rounds = 5) => {
    const rows = inventSurvey({ seed, scatter: 0.6, step: 0.1, rounds }).text.split("\n");
    const first = rows.findIndex((row) => row.startsWith("place,"));
    return rows
      .map((row, i) => {
        const cells = row.split(",");
        if (i <= first || cells.length < 5) return row;
        const share = (i - first) / (rows.length - first);
        return [...cells.slice(0, 3), (Number(cells[3]) + by(share)).toFixed(1), cells[4]].join(",");
      })
      .join("\n");
  };

  it("that settles is taken out as a curve, its time constant told, to within the doubt that is claimed", () => {
    let inside = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const settling = (share: number) => 15 * (1 - Math.exp(-6 * share));
      const map = parseSurvey(drifting(seed, settling, 7)).surface();
      const still = parseSurvey(drifting(seed, () => 0, 7)).surface();
      if (seed === 4) expect(map.drift?.model).toBe("settling");
      if (seed === 4)
        expect(map.drift?.statement).toMatch(
          /^the datum returns settle \(1\d\.\d µm in all, time constant (2[4-9]|3\d) readings\)/,
        );
      const error = map.places.map((p, i) => p.zUm - still.places[i]!.zUm);
      const u = Math.hypot(...map.drift!.modesUm.map((mode) => mode.at(-1)! - mode[0]!));
      if (Math.abs(error.at(-1)! - error[0]!) <= 2 * u) inside++;
    }
    // about 38 of 40 for 95 %; 99.9 % band of the binomial law
    expect(inside).toBeGreaterThanOrEqual(32);
  });

  it("that goes up and down is followed from return to return", () => {
    const drift = parseSurvey(drifting(4, (share) => 12 * Math.sin(6 * share), 7)).surface().drift;
    expect(drift?.model).toBe("between returns");
    expect(drift?.modesUm.length).toBeGreaterThan(4);
  });

  it("between two curves that fit alike leaves their spread in the doubt, and says so", () => {
    const drift = parseSurvey(drifting(6, (share) => 12 * (1 - Math.exp(-2 * share)))).surface().drift;
    expect(drift?.statement).toMatch(
      /; evidence: .+ \d+ %, .+ \d+ %, and the spread between them is in the doubt of the heights$/,
    );
  });
});
