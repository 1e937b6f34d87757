import { afterEach, describe, expect, it } from "vitest";
import {
  budget,
  confirmStated,
  degC,
  displayIn,
  input,
  Measured,
  mm,
  smallestChange,
  um,
  uncertainty,
  verdict,
} from "../../kernel-lib/src/index.js";
import { display, type MimeBundle } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";

afterEach(() => void displayIn("metric"));

const cell = (value: object): string => {
  const shown = (value as { [display](): MimeBundle })[display]();
  expect(shown["text/html"]).toContain("dialbook");
  return shown["text/plain"];
};
const gap = () =>
  budget({
    measurand: "gap",
    inputs: { dial: input.normal({ label: "dial", estimate: um(254), standardUncertainty: um(2.54) }) },
    model: ({ dial }) => dial,
  });

describe("displayIn", () => {
  it("changes what cells show, quantities, measured values, budgets and verdicts alike", () => {
    displayIn("inch");
    expect(cell(um(12.7))).toBe("5 tenth");
    expect(cell(degC(20))).toBe("68 °F");
    expect(cell(Measured.of(mm(25.4), gap().terms))).toBe("1.00000 in ± 0.00020 in (k = 2.0)");
    expect(cell(gap())).toContain("gap: 10.00 thou ± 0.20 thou (k = 2.0), that is 9.80 thou to 10.20 thou");
    expect(cell(gap())).not.toMatch(/\d µm/);
    expect(cell(verdict(gap(), { upper: um(300) }))).toMatch(/^conforms: 10\.00 thou ± 0\.20 thou .* guard 1\.6 tenth/);
    expect(cell(smallestChange(um(2.54)))).toMatch(/^smallest change: 2\.0 tenth at one place/);
    expect(cell(uncertainty.pooledSpread([[um(0), um(25.4)]]))).toMatch(/^s = 7.1 tenth from 1 group, 1 degree/);
  });

  it("leaves values, text, JSON and stated figures as they are", () => {
    const before = gap();
    displayIn("inch");
    expect(`${before}`).toBe("254.0 µm ± 5.0 µm (k = 2.0)");
    expect(before.in("um")).toBe(254);
    expect(JSON.stringify(um(1))).toBe('{"kind":"length","si":0.000001}');
    expect(`${confirmStated(before, "254 µm ± 5 µm (k = 2)")}`).toBe(
      "stated and computed agree: 254 µm ± 5 µm (k = 2)",
    );
    expect(verdict(before, { upper: um(300) }).toString()).toContain("254.0 µm");
  });

  it("is undone by metric, and refuses any other word", () => {
    displayIn("inch");
    expect(`${displayIn("metric")}`).toBe("shown in metric units from here on");
    expect(cell(um(12.7))).toBe("12.7 µm");
    expect(refusal(() => displayIn("imperial" as never))).toEqual({
      code: "unit-system",
      message: 'displayIn: "imperial" is no system of units; use "metric" or "inch"',
    });
  });
});
