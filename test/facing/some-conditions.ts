import { cuttingConditions } from "../../kernel-lib/src/facing/conditions.js";
import { type ConditionsInput, facedPlate, kienzle } from "../../kernel-lib/src/facing/index.js";
import { kW, MPa, minutes, mm, mmPerMin, newton, um } from "../../kernel-lib/src/quantity/index.js";
import { input } from "../../kernel-lib/src/uncertainty/index.js";
import { aJob, aTop } from "./a-job.js";

/** The invented club's small plate, a push test at the cutter, and invented figures of a soft aluminium. */
export function someConditions(more: Partial<ConditionsInput> = {}): ConditionsInput {
  const job = more.job ?? aJob();
  return {
    job,
    plateTop: aTop(job),
    material: "aluminium 6061-T651",
    edge: "HSS",
    specificForce: kienzle([
      { chip: mm(0.1), force: MPa(600) },
      { chip: mm(0.4), force: MPa(400) },
    ]),
    motor: { power: kW(0.55), efficiency: 0.7 },
    yields: {
      by: input.normal({ label: "push test", estimate: um(8), standardUncertainty: um(0.6) }),
      under: newton(150),
    },
    rapid: mmPerMin(600),
    pause: input.rectangular({ label: "each stop", estimate: minutes(3), halfWidth: minutes(1) }),
    ...more,
  };
}

/** the same on a machine that gives way more, cut in two rounds */
export function yieldingConditions(): ConditionsInput {
  const by = input.normal({ label: "push test", estimate: um(8), standardUncertainty: um(0.6) });
  return someConditions({
    job: aJob({ rounds: [{ depth: mm(0.3) }, { depth: mm(0.5) }] }),
    yields: { by, under: newton(20) },
  });
}

export function aFacedPlate() {
  const surveyed = (label: string, height: number) =>
    input.normal({ label, estimate: um(height), standardUncertainty: um(1) });
  return facedPlate({
    conditions: cuttingConditions(yieldingConditions()),
    texture: um(1.2),
    travelRepeatUpTo: um(2),
    heatUpTo: um(2),
    gauge: um(0.8),
    travel: { straightness: surveyed("straightness of the travel", 5), twist: surveyed("twist of the travel", 3) },
  });
}
