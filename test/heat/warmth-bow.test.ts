import { describe, expect, it } from "vitest";
import { material, warmthBow } from "../../kernel-lib/src/heat/index.js";
import { input, kelvin, Measured, mm, parseSurvey, um } from "../../kernel-lib/src/index.js";
import { refusal } from "../refusal.js";

const plate = { length: mm(500), thickness: mm(20), material: material("aluminium 6061") };
const found = (bow: number, u: number) =>
  Measured.from(input.normal({ label: "bow", estimate: um(bow), standardUncertainty: um(u) }));
const difference = (k: number, u: number) =>
  input.normal({ label: "difference", estimate: kelvin(k), standardUncertainty: kelvin(u) });

describe("may this form be warmth?", () => {
  // α ΔT L²/(8t): aluminium, 20 mm, 500 mm, 1 K: 36.875 µm
  it.each([
    [found(37, 2), difference(1, 0.1), "may be all of it"],
    [found(37, 1), difference(0.5, 0.03), "may be part of it"],
    [found(37, 2), difference(0, 0.02), "is not what was found"],
    [found(-37, 2), difference(1, 0.05), "is not what was found"],
    [found(-37, 2), difference(-1, 0.05), "may be all of it"],
    [found(10, 1), difference(1, 0.05), "would make more than was found"],
  ] as const)("%s with a difference of %s: warmth %s", (bow, kelvins, verdict) => {
    expect(warmthBow({ ...plate, found: bow, difference: kelvins }).verdict).toBe(verdict);
  });

  it("says what difference would be needed, in closed form", () => {
    const check = warmthBow({ ...plate, found: um(36.875 / 2), difference: kelvin(0.1) });
    expect(check.needed.in("K")).toBeCloseTo(0.5, 12);
    expect(check.left.in("um")).toBeCloseTo(36.875 * 0.4, 9);
  });

  it("takes the difference from the thermometer lines of a survey, and refuses one that names no such place", () => {
    const lines = ["# relative to: travel", "# front: y-", "# +x: right", "# +y: back", "# gauge resolution: 1 um"];
    lines.push("# gauge maximum permissible error: 3 um", "# temperature top: 18.4 °C to 18.8 °C");
    lines.push("# temperature underside: 64.4 °F", "place,x/mm,y/mm,z/um,pass", "A1,0,0,1,1");
    const survey = parseSurvey(lines.join("\n"), { name: "table.csv" });
    const read = { survey, top: "top", underside: "underside", thermometersWithin: kelvin(0.2) };
    const check = warmthBow({ ...plate, found: found(22, 1), difference: read });
    expect(check.difference.in("K")).toBeCloseTo(0.6, 9);
    // two rectangular causes, ± 0.2 K each
    expect(check.difference.standardUncertainty.in("K")).toBeCloseTo(0.2 * Math.sqrt(2 / 3), 9);
    expect(check.verdict).toBe("may be all of it");
    expect(
      refusal(() => warmthBow({ ...plate, found: um(1), difference: { ...read, underside: "column" } })).message,
    ).toBe(
      'warmthBow: table.csv says no temperature of "column", only of top, underside; a bow by warmth is told by thermometers on top and underside: write "# temperature column: 18.2 °C" on the sheet, or give the difference',
    );
  });
});
