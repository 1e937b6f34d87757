import { expect, it } from "vitest";
import { cuttingConditions } from "../../kernel-lib/src/facing/conditions.js";
import { facedPlate } from "../../kernel-lib/src/facing/faced-plate.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { newton, um } from "../../kernel-lib/src/quantity/index.js";
import { input } from "../../kernel-lib/src/uncertainty/index.js";
import { someConditions } from "../facing/some-conditions.js";

const given = someConditions();

it("hold what invented machines give at least as often as they claim", () => {
  const cases = 400;
  const random = randomStream(2026, 1);
  const between = (low: number, high: number) => low + (high - low) * random.uniform();
  // lower limit of the binomial 99.9 % band about 95 %
  const least = 364;
  const hits = { copied: 0, deflection: 0, seen: 0 };
  for (let k = 0; k < cases; k++) {
    const [yieldUm, force, upward] = [between(5, 12), between(0.8, 1.2), between(0.2, 0.6)];
    const read = input.normal({
      label: "push test",
      estimate: um(yieldUm + 0.6 * random.normal()),
      standardUncertainty: um(0.6),
    });
    const yields = { by: read, under: newton(150) };
    const conditions = cuttingConditions({ ...given, yields });
    const of = conditions.facts;
    const stiff = of.force.in("N") / Math.max(...of.bites.map((b) => b.in("um")));
    const give = (force * upward * yieldUm * stiff) / 150;
    const left = give / (1 + give);
    const copied = 65 * left ** 3;
    const deflection = of.bites.reduce((sum, bite) => (sum + bite.in("um")) * left, 0);
    const seen = 1.2 + copied + deflection * random.uniform() + between(0, 2) + between(0, 2) + 0.8 * random.normal();
    const predicted = facedPlate({
      conditions,
      texture: um(1.2),
      travelRepeatUpTo: um(2),
      heatUpTo: um(2),
      gauge: um(0.8),
    }).asThisMachineSees;
    const holds = ([low, high]: readonly [{ in(unit: "um"): number }, { in(unit: "um"): number }], x: number) =>
      x >= low.in("um") && x <= high.in("um") ? 1 : 0;
    hits.copied += holds(of.copied.symmetric, copied);
    hits.deflection += holds(of.deflection.symmetric, deflection);
    hits.seen += holds(predicted.interval(), seen);
  }
  console.log(
    `${cases} machines, 95 %: copied ${hits.copied}, deflection ${hits.deflection}, seen ${hits.seen}; at least ${least}`,
  );
  for (const count of Object.values(hits)) expect(count).toBeGreaterThanOrEqual(least);
});
