import * as fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  fahrenheitDegrees,
  inch,
  kelvin,
  mm,
  perKelvin,
  Quantity,
  um,
  umPerKelvin,
} from "../../kernel-lib/src/quantity/index.js";
import { budget, input } from "../../kernel-lib/src/uncertainty/index.js";
import { fixture } from "../reference/digits.js";
import { refusal } from "../refusal.js";

describe("a drift per kelvin", () => {
  it("gives, with the length and the coefficient of the end gauge of GUM H.1, the contribution printed there", () => {
    const { published } = fixture<{ published: { contributions: readonly string[] } }>("gum/end-gauge.json");
    // l_S α_S u(δθ): the bars may differ by ± 0.05 K, rectangular (JCGM 100, H.1.3.4 and H.1.5)
    const drift = mm(50.000623).times(perKelvin(11.5e-6));
    expect(drift.text()).toBe("0.575007 µm/K");
    const apart = input.rectangular({ label: "bars apart", estimate: kelvin(0), halfWidth: kelvin(0.05) });
    const growth = budget({ measurand: "growth", inputs: { drift, apart }, model: (i) => i.drift.times(i.apart) });
    expect(growth.standardUncertainty.in("nm").toFixed(1)).toBe(published.contributions[3]);
  });

  it("carries a line of a budget: µm/K by K", () => {
    const inputs = {
      drift: input.rectangular({ label: "drift of the set-up", estimate: umPerKelvin(2.5), halfWidth: umPerKelvin(1) }),
      warming: input.normal({ label: "warming", estimate: kelvin(2), standardUncertainty: kelvin(0.5) }),
    };
    const found = budget({ measurand: "drift", inputs, model: (i) => i.drift.times(i.warming) });
    expect(found.text()).toBe("5.0 µm ± 3.3 µm (k = 2.0)");
    const line = found.rows().find(({ label }) => label === "drift of the set-up")!;
    expect(Object.values(line).map(String)).toContain("2.50 µm/K");
    const thumb = found.rows("inch").find(({ label }) => label === "drift of the set-up")!;
    expect(Object.values(thumb).map(String).join(" | ")).toContain("55 µin/°F");
  });

  it("is read as it is written in the shop, and printed the same way", () => {
    for (const written of ["2.5 µm/K", "2,5 μm/K", "2.5 um/K", "0.0025 mm/K", "2.5 µm/°C", "2.5 um/degC"]) {
      expect(Quantity.parse("thermal drift", written).text()).toBe("2.5 µm/K");
    }
    expect(Quantity.parse("thermal drift", "100 uin/degF").text("um/K")).toBe("4.572 µm/K");
    expect(refusal(() => Quantity.parse("thermal drift", "2.5 µm")).message).toBe(
      'thermal drift: "2.5 µm" has the unit "µm"; use um/K, mm/K, um/degC, uin/degF, thou/degF, m/K',
    );
  });

  it("is shown in inch units as micro-inches a degree Fahrenheit, a large one in thou", () => {
    expect(umPerKelvin(2.5).text("inch")).toBe("54.6807 µin/°F");
    expect(umPerKelvin(45.72).text("inch")).toBe("1 thou/°F");
    // one thou a degree Fahrenheit: 0.001 in for 1 °F
    expect(inch(0.001).over(fahrenheitDegrees(1)).text("inch")).toBe("1 thou/°F");
    expect(inch(1e-6).over(fahrenheitDegrees(1)).in("uin/degF")).toBe(1);
  });

  it("refuses at run time what does not compile", () => {
    expect(refusal(() => um(20).plus(umPerKelvin(2.5) as never)).message).toBe(
      "plus: 2.5 µm/K, a thermal drift, was given to the length 20 µm; give a length",
    );
  });

  it("comes back from its products and quotients, in whatever units", () => {
    fc.assert(
      fc.property(fc.double({ min: 0.01, max: 500 }), fc.double({ min: 0.01, max: 90 }), (size, degrees) => {
        const drift = umPerKelvin(size);
        const warming = fahrenheitDegrees(degrees);
        const moved = drift.times(warming);
        expect(warming.times(drift).si).toBe(moved.si);
        expect(moved.over(warming).in("um/K") / size).toBeCloseTo(1, 12);
        expect(moved.over(drift).in("degF") / degrees).toBeCloseTo(1, 12);
        expect(moved.in("thou") / (drift.in("thou/degF") * degrees)).toBeCloseTo(1, 12);
        const alpha = drift.over(mm(400));
        expect(mm(400).times(alpha).si / drift.si).toBeCloseTo(1, 12);
        expect(drift.over(alpha).in("mm")).toBeCloseTo(400, 9);
      }),
      { seed: 12, numRuns: 200 },
    );
  });
});
