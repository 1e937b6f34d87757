import { expectTypeOf, it } from "vitest";
import { degC, kelvin, mm, perKelvin, type Quantity, um } from "../../kernel-lib/src/quantity/index.js";
import { type Budget, budget, budgetOfNumbers, input, Measured } from "../../kernel-lib/src/uncertainty/index.js";

const alpha = input.rectangular({ label: "α", estimate: perKelvin(11e-6), halfWidth: perKelvin(1e-6) });
const warm = input.normal({ label: "warm", estimate: kelvin(3), standardUncertainty: kelvin(1) });
const air = input.normal({ label: "air", estimate: degC(20), standardUncertainty: kelvin(1) });

it("gives the model quantities of the right kinds, and the result the kind of the model", () => {
  const growth = budget({
    measurand: "growth",
    inputs: { length: mm(500), alpha, warm },
    model: (q) => {
      expectTypeOf(q.length).toEqualTypeOf<Quantity<"length">>();
      expectTypeOf(q.alpha).toEqualTypeOf<Quantity<"expansion coefficient">>();
      return q.length.times(q.alpha.times(q.warm));
    },
  });
  expectTypeOf(growth).toEqualTypeOf<Budget<"length">>();
  expectTypeOf(growth.expandedUncertainty()).toEqualTypeOf<Quantity<"length">>();
  expectTypeOf(Measured.from(air).standardUncertainty).toEqualTypeOf<Quantity<"temperature difference">>();
  // @ts-expect-error a growth is no temperature
  growth.in("degC");
  // @ts-expect-error a length and a temperature difference do not add
  growth.plus(Measured.from(warm));
});

it("refuses kinds that do not fit", () => {
  // @ts-expect-error the uncertainty of a temperature is a temperature difference
  input.normal({ label: "air", estimate: degC(20), standardUncertainty: degC(1) });
  // @ts-expect-error a bare number is no uncertainty
  input.normal({ label: "air", estimate: um(20), standardUncertainty: 1 });
  // @ts-expect-error a sum of a temperature difference and an expansion coefficient
  budget({ measurand: "x", inputs: { alpha, warm }, model: (q) => q.warm.plus(q.alpha) });
  budgetOfNumbers({
    measurand: "x",
    inputs: { warm },
    // @ts-expect-error a temperature difference is not read in micrometres
    units: { warm: "um" },
    result: { kind: "length", unit: "um" },
    model: ({ warm }) => warm,
  });
});
