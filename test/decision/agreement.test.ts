import { expect, it } from "vitest";
import { options } from "../../kernel-lib/src/decision/index.js";
import { flatness } from "../../kernel-lib/src/form/index.js";
import { um } from "../../kernel-lib/src/quantity/index.js";
import { invent, surveyedTable } from "../data/workshop.js";

it("agrees with the corrected minimum zone of the same map, in value and in uncertainty", () => {
  const { map } = surveyedTable(invent());
  const { corrected } = flatness(map).minimumZone;
  const decision = options({ surface: map, tolerance: { upper: um(16), source: "the job" }, draws: 600 });
  const { estimate, low, high } = decision.option("leave").prediction!;
  expect(Math.abs(estimate.in("um") - corrected.in("um"))).toBeLessThan(corrected.standardUncertainty.in("um"));
  const [from, to] = corrected.interval();
  const ratio = (high.in("um") - low.in("um")) / (to.in("um") - from.in("um"));
  expect(ratio).toBeGreaterThan(0.75);
  expect(ratio).toBeLessThan(1.25);
});
