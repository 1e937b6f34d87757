import { range, surfaceOf } from "../form/places.js";
import { MeasurementError } from "../measurement-error.js";
import { type Length, mm, plain, um } from "../quantity/index.js";
import { sizeText } from "../quantity/size-text.js";
import { type Budget, budget, input, type MonteCarlo } from "../uncertainty/index.js";
import { climbMilling } from "./climb.js";
import type { ConditionsInput } from "./conditions-input.js";
import { CuttingConditions } from "./conditions-result.js";
import { type CutDoubts, cutDoubts, cutShares, forceAt, type YieldModel, yieldModel } from "./cutting-yield.js";
import { type Engagement, engagementOf } from "./engagement.js";
import { needJobFrame } from "./job-frame.js";
import { millingPower } from "./pass.js";
import { type CuttingProgram, program } from "./program.js";
import type { FacingJob } from "./program-job.js";
import { programTime } from "./program-time.js";
import { speedRange } from "./speed-range.js";

/**
 * Conditions of a facing cut: speed, feed, chip, force, power, yield, what of the old form is copied, and time.
 *
 * The force is that of the widest pass by Kienzle's law at the mean chip, held at 0.05 mm for thinner chips. The cutter
 * gives way by yield per depth c, so that a round leaves c / (1 + c) of the unevenness it meets, and each further round
 * that share of what is left. The deflection is what stands after the last round over the whole width; at edges and
 * gaps it is less. Power and speed that do not suit are not refused: `safe` is false and the sentence says why.
 *
 * @throws MeasurementError `not-positive`, `share`, `wrong-frame`, `frames-differ`, and whatever `facing.program` and `facing.millingPower` refuse
 * @see Kienzle's law and the power formula: handbooks; cantilever: beam theory; upward share: common practice, no source
 * @example
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const job = { name: "club plate", frame, travel: facing.area(mm(0), mm(520), mm(0), mm(230)), travelZ: { from: mm(-20), to: mm(200) }, plate: facing.area(mm(40), mm(480), mm(20), mm(220)), zero: { x: mm(40), y: mm(20) }, workOffset: "G54", cutter: { diameter: mm(50), teeth: 1, greatestSpeed: perMin(1200) }, speed: perMin(600), feedPerTooth: mm(0.1), feedDown: mmPerMin(100), stepOver: mm(25), runOut: mm(3), feedAlong: "x", rounds: [{ depth: mm(0.3) }, { depth: mm(0.5) }], floor: mm(-1), clearance: mm(5), retract: mm(50), spinUp: seconds(5), screws: [], margin: mm(0.5) };
 * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 + 146 * i, yMm: 20 + 100 * j, zUm: 10 * i, count: 2 })));
 * const plateTop = { name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 1, degreesOfFreedom: 12 } };
 * const specificForce = facing.kienzle([{ chip: mm(0.1), force: MPa(600) }, { chip: mm(0.4), force: MPa(400) }]);
 * const yields = { by: input.rectangular({ label: "push test", estimate: um(6), halfWidth: um(1) }), under: newton(100) };
 * facing.cuttingConditions({ job, plateTop, material: "aluminium 6061-T651", edge: "HSS", specificForce, motor: { power: kW(0.75), efficiency: 0.7 }, yields, rapid: mmPerMin(600), pause: minutes(3) }).safe // => true
 */
export function cuttingConditions(given: ConditionsInput): CuttingConditions {
  checkGiven(given);
  const { job } = given;
  needJobFrame("facing.cuttingConditions", job, surfaceOf(given.plateTop));
  const written = program(job);
  const engagement = engagementOf(job);
  const doubts = cutDoubts(given);
  const giving = yieldModel(given, engagement, doubts);
  const bites = bitesOf(job);
  const deflection = deflectionAfter(giving, bites);
  const copied = copiedForm(given, giving, bites.length);
  const heaviest = bites.reduce((a, b) => (b.si > a.si ? b : a));
  return new CuttingConditions({
    ...given,
    program: written,
    engagement,
    bites,
    speedRange: speedRange(given.material, given.edge),
    climbing: climbMilling(job.feedPerTooth, job.play),
    ...loads(given, engagement, doubts, heaviest, written),
    greatestToothForce: given.specificForce.at(engagement.greatestChip).times(engagement.greatestChip.times(heaviest)),
    giving: budget({
      measurand: "yield per depth of cut",
      inputs: giving.inputs,
      model: (x) => plain(giving.at(x)),
    }),
    deflection: simulated(deflection),
    copiedShare: simulated(copiedShare(giving, bites.length)),
    copied: simulated(copied),
    time: timeOf(given, written),
  });
}

/** what each round takes off, by the program */
function bitesOf({ rounds }: FacingJob): readonly Length[] {
  return rounds.map(({ depth }, i) => depth.minus(rounds[i - 1]?.depth ?? mm(0)));
}

function loads(
  { specificForce, motor }: ConditionsInput,
  engagement: Engagement,
  doubts: CutDoubts,
  depth: Length,
  { feed }: CuttingProgram,
): { readonly force: Budget<"force">; readonly lift: Budget<"force">; readonly power: Budget<"power"> } {
  const specific = specificForce.at(engagement.meanChip);
  const force = forceAt(depth, specific, engagement);
  const drawn = millingPower({
    depth,
    width: engagement.width,
    feed,
    specificForce: specific,
    efficiency: motor.efficiency,
  });
  return {
    force: budget({
      measurand: "cutting force, widest pass",
      inputs: { doubt: doubts.force },
      model: ({ doubt }) => force.times(doubt),
    }),
    lift: budget({
      measurand: "upward force, widest pass",
      inputs: { doubt: doubts.force, upward: doubts.upward },
      model: ({ doubt, upward }) => force.times(doubt).times(upward),
    }),
    power: budget({
      measurand: "power drawn by the cut",
      inputs: { doubt: doubts.force },
      model: ({ doubt }) => drawn.times(doubt),
    }),
  };
}

/** share of an unevenness that one round leaves */
const leftBy = (c: number) => c / (1 + c);

function copiedShare({ inputs, at }: YieldModel, rounds: number): Budget<"number"> {
  return budget({
    measurand: "share of the old form left in the finish",
    inputs,
    model: (x) => plain(leftBy(at(x)) ** rounds),
  });
}

function copiedForm({ plateTop }: ConditionsInput, { inputs, at }: YieldModel, rounds: number): Budget<"length"> {
  const { places, noise } = surfaceOf(plateTop);
  const found = input.normal({
    label: "old form, peak to valley as probed",
    estimate: um(range(places.map(({ zUm }) => zUm))),
    standardUncertainty: um(Math.SQRT2 * noise.standardUncertaintyUm),
  });
  return budget({
    measurand: "old form left in the finish",
    inputs: { ...inputs, found },
    model: (x) => x.found.times(leftBy(at(x)) ** rounds),
  });
}

/** what stands after the last round: each meets its own depth and what the one before left */
function deflectionAfter({ inputs, at }: YieldModel, bites: readonly Length[]): Budget<"length"> {
  return budget({
    measurand: "deflection in the last round",
    inputs,
    model: (x) => bites.reduce((left, bite) => bite.plus(left).times(leftBy(at(x))), mm(0)),
  });
}

/** the model bends with the power of the rounds, so that a first-order interval would hold too seldom */
function simulated<K extends "number" | "length">(of: Budget<K>): MonteCarlo<K> {
  return of.simulate({ seed: 1, trials: 10_000 });
}

function timeOf({ job, rapid, pause }: ConditionsInput, { text }: CuttingProgram): Budget<"time"> {
  const { feeding, rapids, dwells, stops } = programTime(text, job, rapid);
  return budget({
    measurand: "time of the program with rapids and stops",
    inputs: { pause },
    model: (x) => x.pause.times(stops).plus(feeding).plus(rapids).plus(dwells),
  });
}

function checkGiven(given: ConditionsInput): void {
  const { motor, yields, holder, rapid } = given;
  const { forceWithin, upward } = cutShares(given);
  const [low, high] = upward;
  const named = { "motor.power": motor.power, "yields.under": yields.under, rapid, ...holder };
  for (const [name, value] of Object.entries(named)) {
    if (!(value.si > 0)) refuse("not-positive", `${name} is ${sizeText(value)}; give a value above zero`);
  }
  if (!(forceWithin > 0 && forceWithin < 1 && low >= 0 && high > low && high <= 1)) {
    refuse(
      "share",
      `forceWithin ${forceWithin} and upward ${low} to ${high}; give a share above 0 and below 1, and an upward share from 0 to 1, its lower end first`,
    );
  }
}

function refuse(code: string, sentence: string): never {
  throw new MeasurementError(code, `facing.cuttingConditions: ${sentence}`);
}
