import { inspect } from "node:util";
import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type AcceptanceRule,
  acceptance,
  conformanceProbability,
  globalRisk,
  smallestChange,
  specificRisk,
  verdict,
} from "../../kernel-lib/src/conformity/index.js";
import { riskText } from "../../kernel-lib/src/conformity/risk-text.js";
import { normalCdf, randomStream } from "../../kernel-lib/src/numerics/index.js";
import { degC, kelvin, mm, um } from "../../kernel-lib/src/quantity/index.js";
import { input, Measured } from "../../kernel-lib/src/uncertainty/index.js";
import { evenly } from "../evenly.js";
import { refusal } from "../refusal.js";

const height = (value: number, u: number) =>
  Measured.from(input.normal({ label: "h", estimate: um(value), standardUncertainty: um(u) }));
const plates = { mean: um(12), standardDeviation: um(4), source: "invented plates" };
const rules: AcceptanceRule[] = ["simple acceptance", "guarded acceptance", "guarded rejection"];

describe("acceptance", () => {
  it("moves the limit by 1.6449 u inwards to prove conformity, outwards to prove the contrary (ISO 14253-1, from memory)", () => {
    const at = (value: number) => rules.map((rule) => acceptance(height(value, 2), { upper: um(20) }, rule).isAccepted);
    expect(at(16.7)).toEqual([true, true, true]);
    expect(at(16.72)).toEqual([true, false, true]);
    expect(at(20)).toEqual([true, false, true]);
    expect(at(20.01)).toEqual([false, false, true]);
    expect(at(23.28)).toEqual([false, false, true]);
    expect(at(23.3)).toEqual([false, false, false]);
  });

  it("agrees with the verdict: guarded acceptance is conforms, no guarded rejection is does not conform", () => {
    fc.assert(
      fc.property(evenly(0, 40), evenly(0.01, 2.5), (y, u) => {
        const tolerance = { lower: um(5), upper: um(20) };
        const { decision } = verdict(height(y, u), tolerance);
        const accepted = (rule: AcceptanceRule) => acceptance(height(y, u), tolerance, rule).isAccepted;
        expect(accepted("guarded acceptance")).toBe(decision === "conforms");
        expect(accepted("guarded rejection")).toBe(decision !== "does not conform");
      }),
    );
  });

  it("says the outcome first, then value, limit, rule and guard", () => {
    expect(`${acceptance(height(18, 2), { upper: um(20), source: "the job" }, "guarded acceptance")}`).toBe(
      "not accepted: 18.0 µm ± 3.9 µm (k = 2.0) against at most 20 µm (the job); guarded acceptance: conformity is to be proven (ISO 14253-1; JCGM 106, 8.3.2), guard 3.3 µm",
    );
  });

  it("turns away what lies below a lower limit, and says a rule without a guard", () => {
    const at = (value: number) => rules.map((rule) => acceptance(height(value, 2), { lower: um(20) }, rule).isAccepted);
    expect(at(23.3)).toEqual([true, true, true]);
    expect(at(23.28)).toEqual([true, false, true]);
    expect(at(20)).toEqual([true, false, true]);
    expect(at(19.99)).toEqual([false, false, true]);
    expect(at(16.7)).toEqual([false, false, false]);
    expect(`${acceptance(height(23, 2), { lower: um(20) }, "simple acceptance")}`).toBe(
      "accepted: 23.0 µm ± 3.9 µm (k = 2.0) against at least 20 µm (source not stated); simple acceptance: the measured value itself within the tolerance, the risk shared (JCGM 106, 8.2)",
    );
    expect(acceptance(height(23, 2), { lower: um(20) }, "guarded rejection").sentence("inch")).toMatch(
      /at least 7\.87402 tenth .*; guarded rejection: non-conformity is to be proven \(ISO 14253-1; JCGM 106, 8\.3\.3\), guard 1\.3 tenth$/,
    );
    expect(
      acceptance(height(1, 1), { upper: um(3) }, "guarded acceptance", { level: 0.99 }).guard.in("um"),
    ).toBeCloseTo(2.3263, 4);
  });

  it("refuses a rule that is none, and guards that meet", () => {
    expect(refusal(() => acceptance(height(1, 1), { upper: um(2) }, "by eye" as never)).message).toBe(
      'acceptance: "by eye" is no decision rule; use simple acceptance, guarded acceptance, guarded rejection',
    );
    const both = { lower: um(0), upper: um(3) };
    expect(refusal(() => acceptance(height(1, 1), both, "guarded acceptance"))).toEqual({
      code: "guard",
      message:
        "acceptance: guards of 1.64485 µm leave nothing between 0 µm and 3 µm; no value could be accepted, measure with a smaller uncertainty",
    });
  });
});

describe("specificRisk", () => {
  it("is one less the conformance probability when nothing was known before", () => {
    const wide = { mean: um(0), standardDeviation: mm(1000), source: "as good as nothing" };
    const y = height(18, 2);
    const found = specificRisk(y, { upper: um(20) }, wide, "simple acceptance");
    expect(found.whose).toBe("consumer's");
    expect(found.risk).toBeCloseTo(1 - conformanceProbability(y, { upper: um(20) }), 6);
  });

  it("of both limits is what each alone leaves: P(low ≤ Y ≤ high) = P(Y ≤ high) + P(Y ≥ low) − 1, mirrored alike", () => {
    const of = (y: number, tolerance: object, truth = plates) =>
      specificRisk(height(y, 3), tolerance, truth, "simple acceptance").probability;
    for (const y of [4, 11, 19]) {
      const [low, high] = [of(y, { lower: um(6) }), of(y, { upper: um(20) })];
      expect(of(y, { lower: um(6), upper: um(20) })).toBeCloseTo(low + high - 1, 12);
      expect(of(-y, { upper: um(-6) }, { ...plates, mean: um(-12) })).toBeCloseTo(low, 12);
      // posterior mean 12 + (y − 12)·16/25, standard deviation 3·4/5
      expect(low).toBeCloseTo(normalCdf((12 + 0.64 * (y - 12) - 6) / 2.4), 12);
    }
    const kept = specificRisk(height(11, 3), { lower: um(6) }, plates, "simple acceptance");
    expect([kept.whose, kept.risk]).toEqual(["consumer's", 1 - kept.probability]);
  });

  it("is none for a value known without doubt, the limit itself conforming", () => {
    const of = (tolerance: object) =>
      specificRisk(Measured.of(um(12), []), tolerance, { ...plates, mean: um(0) }, "simple acceptance").risk;
    expect([of({ upper: um(12) }), of({ lower: um(12) }), of({ lower: um(12), upper: um(13) })]).toEqual([0, 0, 0]);
    expect([of({ upper: um(11) }), of({ lower: um(13) })]).toEqual([0, 0]);
  });

  it("prints a risk to two digits, and a tiny one as below 0.001 %", () => {
    const of = (y: number) => `${specificRisk(height(y, 1), { upper: um(20) }, plates, "simple acceptance")}`;
    expect([riskText(1e-5), riskText(0.999e-5)]).toEqual(["0.001 %", "below 0.001 %"]);
    expect(of(0)).toMatch(/^specific consumer's risk below 0\.001 %; accepted: /);
    // posterior mean 12 + 6·16/17, standard deviation √(16/17): 2.425 of them to the limit, 0.0076 beyond it
    expect(of(18)).toMatch(/^specific consumer's risk 0\.76 %; accepted: /);
  });

  it("is the producer's where the value is turned away, and prints its law", () => {
    const found = specificRisk(height(21, 3), { upper: um(20), source: "the job" }, plates, "simple acceptance");
    // posterior mean 12 + 9·16/25, standard deviation 3·4/5
    expect(found.risk).toBeCloseTo(normalCdf((20 - 17.76) / 2.4), 12);
    expect(`${found}`).toBe(
      "specific producer's risk 82 %; not accepted: 21.0 µm ± 5.9 µm (k = 2.0) against at most 20 µm (the job); simple acceptance: the measured value itself within the tolerance, the risk shared (JCGM 106, 8.2); law for the true value: normal about 12 µm with standard deviation 4 µm (invented plates)",
    );
  });

  it("is of the rule's own decision and level, in the units asked for", () => {
    const guarded = specificRisk(height(18, 2), { upper: um(20) }, plates, "guarded acceptance");
    expect(guarded.whose).toBe("producer's");
    const mild = specificRisk(height(18, 2), { upper: um(20) }, plates, "guarded acceptance", { level: 0.8 });
    expect([mild.whose, mild.acceptance.guard.in("um").toFixed(4)]).toEqual(["consumer's", "1.6832"]);
    expect(guarded.sentence("inch")).toMatch(
      /at most 7\.87402 tenth .* guard 1\.3 tenth; law for the true value: normal about 4\.72441 tenth with standard deviation 1\.5748 tenth /,
    );
    expect(refusal(() => specificRisk(height(18, 2), {}, plates, "simple acceptance")).message).toBe(
      "acceptance: no limit is given; give upper, lower or both",
    );
  });

  it("refuses a law without spread or source", () => {
    const of = (law: object) => () =>
      specificRisk(height(18, 2), { upper: um(20) }, { ...plates, ...law }, "simple acceptance");
    expect(refusal(of({ mean: kelvin(1) })).message).toBe(
      "specificRisk: a risk needs a law for the true value with the mean as a length; give it, or use conformanceProbability",
    );
    expect(refusal(of({ standardDeviation: um(0) })).message).toBe(
      "specificRisk: the law for the true value has the standard deviation 0 µm; give a length above zero",
    );
    expect(refusal(of({ standardDeviation: um(-1) })).code).toBe("true-value");
    expect(refusal(of({ standardDeviation: kelvin(1) })).message).toBe(
      "specificRisk: the law for the true value has the standard deviation 1 K; give a length above zero",
    );
    expect(refusal(of({ mean: 12 })).code).toBe("true-value");
    expect(refusal(of({ source: undefined })).code).toBe("true-value");
    expect(
      refusal(() => specificRisk(height(18, 2), { upper: um(20) }, undefined as never, "simple acceptance")).code,
    ).toBe("true-value");
    expect(refusal(of({ source: " " })).message).toBe(
      "specificRisk: the law for the true value has no source; say where it comes from, it decides the figure",
    );
  });
});

describe("globalRisk", () => {
  it("is Sheppard's orthant where limit and mean coincide: 1/4 − arcsin(ρ)/2π on either side (Sheppard 1899)", () => {
    for (const ratio of [0.01, 0.1, 0.5, 1, 3, 20]) {
      const found = globalRisk({
        tolerance: { upper: um(12) },
        truth: plates,
        standardUncertainty: um(4 * ratio),
        rule: "simple acceptance",
      });
      const rho = 1 / Math.hypot(1, ratio);
      const orthant = 0.25 - Math.asin(rho) / (2 * Math.PI);
      expect(found.consumersRisk).toBeCloseTo(orthant, 10);
      expect(found.producersRisk).toBeCloseTo(orthant, 10);
      expect(found.conforming).toBeCloseTo(0.5, 12);
    }
  });

  it("agrees with a seeded simulation of 200,000 pieces for two limits and every rule", () => {
    const tolerance = { lower: um(6), upper: um(20) };
    for (const [number, rule] of rules.entries()) {
      const found = globalRisk({ tolerance, truth: plates, standardUncertainty: um(2), rule });
      const stream = randomStream(106, number);
      const guard = [0, 1, -1][number]! * 1.6449 * 2;
      let [wronglyAccepted, wronglyRejected] = [0, 0];
      const pieces = 200_000;
      for (let i = 0; i < pieces; i++) {
        const truth = 12 + 4 * stream.normal();
        const seen = truth + 2 * stream.normal();
        const good = truth >= 6 && truth <= 20;
        const accepted = seen >= 6 + guard && seen <= 20 - guard;
        if (accepted && !good) wronglyAccepted++;
        if (!accepted && good) wronglyRejected++;
      }
      // 99.9 % band of the binomial
      const band = (p: number) => 3.29 * Math.sqrt((p * (1 - p)) / pieces);
      expect(Math.abs(wronglyAccepted / pieces - found.consumersRisk)).toBeLessThan(band(found.consumersRisk));
      expect(Math.abs(wronglyRejected / pieces - found.producersRisk)).toBeLessThan(band(found.producersRisk));
    }
  });

  it("vanishes with the uncertainty, and a guard trades one risk for the other", () => {
    const of = (u: number, rule: AcceptanceRule) =>
      globalRisk({ tolerance: { upper: um(18) }, truth: plates, standardUncertainty: um(u), rule });
    expect(of(1e-6, "simple acceptance").consumersRisk).toBeLessThan(1e-6);
    const [simple, proving, rejecting] = rules.map((rule) => of(1, rule)) as [
      ReturnType<typeof of>,
      ReturnType<typeof of>,
      ReturnType<typeof of>,
    ];
    expect(proving.consumersRisk).toBeLessThan(simple.consumersRisk);
    expect(proving.producersRisk).toBeGreaterThan(simple.producersRisk);
    expect(rejecting.consumersRisk).toBeGreaterThan(simple.consumersRisk);
    expect(`${proving}`).toMatch(
      /^of all pieces [\d.]+ % are accepted though out of tolerance \(global consumer's risk\), [\d.]+ % are not accepted though within it \(global producer's risk\); at most 18 µm \(source not stated\), guarded acceptance, measured with u = 1.0 µm; law for the true value: normal about 12 µm with standard deviation 4 µm \(invented plates\)$/,
    );
  });

  it("agrees with Sheppard's orthant at a lower limit too, and takes the level of the guard", () => {
    const spec = { truth: plates, standardUncertainty: um(4), rule: "simple acceptance" } as const;
    const found = globalRisk({ ...spec, tolerance: { lower: um(12) } });
    expect(found.consumersRisk).toBeCloseTo(1 / 8, 10);
    expect(found.producersRisk).toBeCloseTo(1 / 8, 10);
    const of = (level?: number) =>
      globalRisk({ ...spec, rule: "guarded acceptance", tolerance: { upper: um(18) }, ...(level && { level }) });
    expect(of().consumersRisk).toBeCloseTo(of(0.95).consumersRisk, 15);
    expect(of(0.99).consumersRisk).toBeLessThan(of(0.95).consumersRisk);
    expect(of(0.95).sentence("inch")).toMatch(/; at most 7\.08661 tenth .* measured with u = 1\.6 tenth; /);
  });

  it("holds for temperatures, whose spread is in kelvin", () => {
    const truth = { mean: degC(20), standardDeviation: kelvin(1), source: "invented" };
    const found = globalRisk({
      tolerance: { upper: degC(20), source: "the job" },
      truth,
      standardUncertainty: kelvin(1),
      rule: "simple acceptance",
    });
    expect(found.consumersRisk).toBeCloseTo(1 / 8, 10);
    expect(`${found}`).toContain("at most 20 °C (the job), simple acceptance, measured with u = 1.0 K");
  });

  it("says what share is within the tolerance: 0.6827 within one standard deviation, 0.8413 below it (normal table)", () => {
    const share = (tolerance: object) =>
      globalRisk({ tolerance, truth: plates, standardUncertainty: um(1), rule: "simple acceptance" }).conforming;
    expect(share({ lower: um(8), upper: um(16) }).toFixed(4)).toBe("0.6827");
    expect(share({ lower: um(8) }).toFixed(4)).toBe("0.8413");
    expect(share({ upper: um(16) }).toFixed(4)).toBe("0.8413");
  });

  it("refuses a tolerance that is none, and a law of another kind, whatever it is of", () => {
    const of = (tolerance: object, truth: object = plates) =>
      refusal(() =>
        globalRisk({ tolerance, truth: truth as never, standardUncertainty: um(1), rule: "simple acceptance" }),
      ).message;
    const warm = { mean: degC(20), standardDeviation: kelvin(1), source: "invented" };
    for (const tolerance of [{ upper: um(2) }, { lower: um(2) }])
      expect(of(tolerance, warm)).toBe(
        "globalRisk: a risk needs a law for the true value with the mean as a length; give it, or use conformanceProbability",
      );
    expect(of({})).toBe("globalRisk: no limit is given; give upper, lower or both");
    expect(of({ lower: um(2), upper: um(1) })).toBe(
      "globalRisk: the lower limit 2 µm is not below the upper limit 1 µm; exchange them",
    );
  });

  it("refuses an uncertainty of zero or of another kind", () => {
    const of = (u: object) => () =>
      globalRisk({
        tolerance: { upper: um(1) },
        truth: plates,
        standardUncertainty: u as never,
        rule: "simple acceptance",
      });
    expect(refusal(of(um(0))).message).toBe("globalRisk: the standard uncertainty is 0 µm; give a length above zero");
    expect(refusal(of(kelvin(1))).message).toBe(
      "globalRisk: the standard uncertainty is 1 K; give a length above zero",
    );
  });
});

it("every result shows its sentence where it is inspected", () => {
  const y = height(18, 2);
  const tolerance = { upper: um(20) };
  const rule = "simple acceptance";
  const results = [
    acceptance(y, tolerance, rule),
    specificRisk(y, tolerance, plates, rule),
    globalRisk({ tolerance, truth: plates, standardUncertainty: um(2), rule }),
    verdict(y, tolerance),
    smallestChange(um(1)),
  ];
  for (const result of results) {
    expect(inspect(result)).toBe(result.sentence());
    expect(`${result}`).toBe(result.sentence());
    expect(Object.isFrozen(result)).toBe(true);
  }
});
