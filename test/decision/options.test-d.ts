import { expectTypeOf, it } from "vitest";
import { type Decision, type OptionVerdict, options } from "../../kernel-lib/src/decision/index.js";
import { degC, um } from "../../kernel-lib/src/quantity/index.js";
import type { Surface } from "../../kernel-lib/src/survey/index.js";

declare const surface: Surface;

it("takes a tolerance only as a length with a source", () => {
  expectTypeOf(options({ surface, tolerance: { upper: um(16), source: "the job" } })).toEqualTypeOf<Decision>();
  // @ts-expect-error a bare number is no length
  options({ surface, tolerance: { upper: 16, source: "the job" } });
  // @ts-expect-error a temperature is no length
  options({ surface, tolerance: { upper: degC(16), source: "the job" } });
  // @ts-expect-error a tolerance has a source
  options({ surface, tolerance: { upper: um(16) } });
});

it("makes whoever reads a verdict think of the one that can't be judged", () => {
  expectTypeOf<OptionVerdict>().toEqualTypeOf<"conforms" | "does not conform" | "not decided" | "can't be judged">();
});
