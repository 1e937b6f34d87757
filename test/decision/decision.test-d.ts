import { expectTypeOf, it } from "vitest";
import type { Decision, ExpectedCost, Option, PredictedLength } from "../../kernel-lib/src/decision/index.js";
import { decision, degC, hours, proof, um } from "../../kernel-lib/src/index.js";
import type { Surface } from "../../kernel-lib/src/survey/index.js";

declare const surface: Surface;
const tolerance = { upper: um(16), source: "the job" };
const stakes = { ifMissed: { hours: hours(6) }, measuringAgain: { hours: hours(2) } };

it("has an expected cost only where the stakes were given, and says so in its type", () => {
  const made: Decision = decision.options({ surface, tolerance, stakes });
  expectTypeOf(made.expectedCost).toEqualTypeOf<ExpectedCost | undefined>();
  expectTypeOf(made.option("stone")).toEqualTypeOf<Option>();
  expectTypeOf(made.option("leave").partOutOfParallel).toEqualTypeOf<PredictedLength | undefined>();
  expectTypeOf<ExpectedCost["measureAgain"]>().toEqualTypeOf<"worth it" | "not worth it" | "not told">();
  // @ts-expect-error there is no such option
  made.option("polish");
});

it("takes hours as a time and money with its currency", () => {
  // @ts-expect-error a bare number is no time
  decision.options({ surface, tolerance, stakes: { ...stakes, ifMissed: { hours: 6 } } });
  // @ts-expect-error an hour is worth money, not hours
  decision.options({ surface, tolerance, stakes: { ...stakes, hourlyValue: hours(1) } });
  // @ts-expect-error what measuring again takes is missing
  decision.options({ surface, tolerance, stakes: { ifMissed: { hours: hours(6) } } });
  // @ts-expect-error money has a currency
  decision.outlay(15);
  // @ts-expect-error texture is a length
  decision.options({ surface, tolerance, texture: { asFound: 4, reTrammed: um(1) } });
  // @ts-expect-error the play of Z is a length
  decision.options({ surface, tolerance, playOfZ: degC(1) });
});

it("proves by surveys, and judges only against a tolerance with a source", () => {
  proof.difference({ before: surface, after: surface });
  proof.newSurface({ before: surface, after: surface, tolerance });
  // @ts-expect-error two surveys are needed
  proof.difference({ before: surface });
  // @ts-expect-error a tolerance has a source
  proof.newSurface({ before: surface, after: surface, tolerance: { upper: um(16) } });
  // @ts-expect-error half an hour is a time
  proof.settled({ first: surface, second: surface, apart: 30 });
});
