import { expect, it } from "vitest";
import { positioning } from "../../kernel-lib/src/axis/positioning.js";
import { positioningTest } from "../../kernel-lib/src/axis/positioning-test.js";
import { simulateTests } from "../../kernel-lib/src/axis/simulated-tests.js";
import { smallMoves } from "../../kernel-lib/src/axis/small-moves.js";
import { systematicPart } from "../../kernel-lib/src/axis/systematic-part.js";
import { gauge, type Measured, minutes, mm, Quantity, um } from "../../kernel-lib/src/index.js";
import { randomStream, tQuantile } from "../../kernel-lib/src/numerics/index.js";
import { measuredCoverage } from "../../kernel-lib/src/uncertainty/index.js";

// Axes drawn with play, pitch, period, drift, gauge and reference errors from the laws that the gauge and the reference state.
// The claim of each interval is 95 % where its inputs are normal; where a rectangular one leads, it is what `measuredCoverage`
// counts from the laws of the inputs, and the hits are held to that at both ends.

const targets = [12, 61.3, 108.9, 161.7, 210.2, 262.6, 311.1, 357.8, 412.4, 459.5];
const runs = 5;
const errorUm = 0.8;
const scaleUmPerM = 8;

interface Truth {
  readonly play: number;
  readonly slope: number;
  readonly amplitude: number;
  readonly drift: number;
  readonly noise: number;
}

/** the errors of gauge and reference from the rectangular laws that are stated, or from normal ones of the same u */
type ErrorLaw = "rectangular" | "normal";

function drawn(seed: number, drifts: boolean, law: ErrorLaw = "rectangular") {
  const { normal, uniform } = randomStream(seed, 16);
  const within = (half: number) =>
    law === "rectangular" ? half * (2 * uniform() - 1) : (half / Math.sqrt(3)) * normal();
  const truth: Truth = {
    play: 2 + 20 * uniform(),
    slope: 120 * (uniform() - 0.5),
    amplitude: 4 * uniform(),
    drift: drifts ? 12 * (uniform() - 0.5) : 0,
    noise: 0.6 + 1.2 * uniform(),
  };
  const phase = 2 * Math.PI * uniform();
  const betweenDirections = within(errorUm);
  const ofReference = within(scaleUmPerM);
  const curve = (target: number) =>
    (truth.slope * target) / 1000 + truth.amplitude * Math.cos((2 * Math.PI * target) / 5 + phase);
  const count = 2 * runs * targets.length;
  let at = 0;
  const readings = Array.from({ length: runs }, (_, r) => r + 1).flatMap((run) =>
    (["up", "down"] as const).flatMap((direction) =>
      (direction === "up" ? targets : targets.toReversed()).map((target) => {
        const half = direction === "up" ? -1 : 1;
        const time = at++;
        const seen =
          curve(target) +
          (half * (truth.play + betweenDirections)) / 2 +
          (ofReference * target) / 1000 +
          (truth.drift * time) / (count - 1) +
          truth.noise * normal();
        return { target: mm(target), direction, run, deviation: um(Math.round(seen / 0.5) * 0.5), time: minutes(time) };
      }),
    ),
  );
  const dial = gauge({ resolution: um(0.5), maximumPermissibleError: um(errorUm) });
  const reference = { name: "scale", scaleLimit: Quantity.fromSi("slope", scaleUmPerM * 1e-6) };
  const means = (["up", "down"] as const).flatMap((direction) =>
    targets.map((target) => curve(target) + (direction === "up" ? -truth.play : truth.play) / 2),
  );
  return { truth, means, test: positioningTest({ axis: "X", readings, gauge: dial, reference }) };
}

function holds(found: Measured<"length"> | Measured<"slope">, si: number): boolean {
  const [low, high] = found.interval();
  return low.si <= si && si <= high.si;
}

interface Count {
  hits: number;
  cases: number;
  /** sum of what the laws of the inputs promise, case by case, and its variance */
  promised: number;
  variance: number;
}

const none = (): Count => ({ hits: 0, cases: 0, promised: 0, variance: 0 });

/** one interval more, promised to hold the truth at a rate */
function count(to: Count, hit: boolean, rate = 0.95): void {
  to.hits += hit ? 1 : 0;
  to.cases++;
  to.promised += rate;
  to.variance += rate * (1 - rate);
}

/** hits within the 99.9 % band about what is promised; from below alone where the claim errs to the safe side on purpose */
function report(what: string, { hits, cases, promised, variance }: Count, ends: "both" | "lower" = "both"): void {
  const half = 3.29 * Math.sqrt(variance) + 0.5;
  const [low, high] = [Math.ceil(promised - half), Math.min(cases, Math.floor(promised + half))];
  const rate = (of: number) => `${((100 * of) / cases).toFixed(1)} %`;
  console.log(
    `${what}: ${hits} of ${cases} (${rate(hits)}), promised ${rate(promised)}, band ${low} to ${high}${ends === "lower" ? " (lower end held)" : ""}`,
  );
  expect(hits, what).toBeGreaterThanOrEqual(low);
  if (ends === "both") expect(hits, what).toBeLessThanOrEqual(high);
}

/** what the stated laws of the inputs give to the interval of a result */
const promise = (found: Measured<"length"> | Measured<"slope">) =>
  measuredCoverage(found, { repeats: 2000, seed: 7 }).rate;

it("gives play, slope, drift and waves back at the rate that the laws of the inputs promise", () => {
  const counts = { play: none(), slope: none(), drift: none(), "wave of at least 4 u": none() };
  let rates = { play: 0, slope: 0 };
  for (let seed = 1; seed <= 1000; seed++) {
    const { truth, test } = drawn(seed, true);
    const part = systematicPart(test, { lead: mm(5) });
    // much the same from case to case: counted for each tenth one
    if (seed % 10 === 1) rates = { play: promise(part.play), slope: promise(part.slope) };
    count(counts.play, holds(part.play, truth.play * 1e-6), rates.play);
    count(counts.slope, holds(part.slope, truth.slope * 1e-6), rates.slope);
    count(counts.drift, holds(part.drift, truth.drift * 1e-6));
    const { amplitude, standardUncertainty, degreesOfFreedom } = part.periodic[0]!;
    const u = standardUncertainty.in("um");
    const off = Math.abs(amplitude.in("um") - truth.amplitude);
    // a wave near its own u cannot be told from none and comes out too high
    if (truth.amplitude >= 4 * u) count(counts["wave of at least 4 u"], off <= u * tQuantile(0.975, degreesOfFreedom));
  }
  report("play", counts.play);
  report("slope, reference error rectangular", counts.slope);
  report("drift", counts.drift);
  // the greater of two estimates of its spread is taken
  report("wave of at least 4 u", counts["wave of at least 4 u"], "lower");
  // the cause of more than 95 %: ± 8 µm/m is u = 4.62 µm/m, and 1.96 u reaches beyond what a rectangular error can be
  expect(counts.slope.promised / counts.slope.cases).toBeGreaterThan(0.975);
});

it("holds play and slope 95 times in 100 once the same doubts of gauge and reference are normal", () => {
  const counts = { play: none(), slope: none() };
  for (let seed = 1; seed <= 1000; seed++) {
    const { truth, test } = drawn(seed, true, "normal");
    const part = systematicPart(test, { lead: mm(5) });
    count(counts.play, holds(part.play, truth.play * 1e-6));
    count(counts.slope, holds(part.slope, truth.slope * 1e-6));
  }
  report("play, gauge error normal", counts.play);
  report("slope, reference error normal", counts.slope);
});

it("gives the mean reversal and the expected A and R back within U, no drift planted", () => {
  const counts = { "mean reversal": none(), "expected A": none(), "expected R": none() };
  for (let seed = 5001; seed < 5301; seed++) {
    const { truth, means, test } = drawn(seed, false);
    const found = positioning(test);
    const spread = Math.hypot(truth.noise, 0.5 / Math.sqrt(12));
    const spreadsUm = means.map(() => spread);
    const expected = simulateTests({ meansUm: means, spreadsUm, runs, stepUm: 0, trials: 400, seed });
    count(counts["mean reversal"], holds(found.lostMotion, truth.play * 1e-6), promise(found.lostMotion));
    count(counts["expected A"], holds(found.accuracy, expected.accuracy.mean * 1e-6));
    count(counts["expected R"], holds(found.repeatability, expected.repeatability.mean * 1e-6));
  }
  // a drift that is not there is still allowed for, as half of what the run means move by
  report("mean reversal", counts["mean reversal"]);
  report("expected A", counts["expected A"], "lower");
  report("expected R", counts["expected R"], "lower");
});

it("gives the play of a ladder back within U, by fine and by coarse gauges", () => {
  const counted = none();
  for (let seed = 9001; seed < 9081; seed++) {
    const { normal, uniform } = randomStream(seed, 17);
    const [play, noise, step] = [3 + 20 * uniform(), 0.2 + uniform(), [0.5, 1, 2, 5][seed % 4]!];
    const between = errorUm * (2 * uniform() - 1);
    let place = 0;
    const commanded = Array.from({ length: 25 }, (_, k) => 5 * (12 - Math.abs(12 - k)));
    const shift = step * uniform();
    const readings = commanded.map((command, k) => {
      if (command > place) place = command;
      if (command < place - play) place = command + play;
      return um(step * Math.round((place + shift + (k > 12 ? between : 0) + noise * normal()) / step));
    });
    const dial = gauge({ resolution: um(step), maximumPermissibleError: um(errorUm) });
    const found = smallMoves({ axis: "X", commanded: commanded.map((c) => um(c)), readings, gauge: dial });
    count(counted, holds(found.play, play * 1e-6));
  }
  // by the coarse gauges the rounding alone decides, and the interval errs to the safe side
  report("play of a ladder", counted, "lower");
});
