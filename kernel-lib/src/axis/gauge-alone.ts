import type { Length } from "../quantity/index.js";
import { type Gauge, stepOf } from "../survey/index.js";
import type { PositioningTest } from "./positioning-test.js";
import { type PerfectAxis, perfectAxis } from "./simulated-tests.js";

/** Scatter of one reading, where nothing but the gauge makes it. */
export interface ReadingScatter {
  readonly standardDeviation: Length;
  readonly step: Length;
  readonly source: string;
}

/** As the gauge states it, else one step of it. */
export function readingScatter(gauge: Gauge): ReadingScatter {
  const step = stepOf(gauge);
  return gauge.repeatability
    ? { standardDeviation: gauge.repeatability.standardDeviation, step, source: "which states its repeatability" }
    : { standardDeviation: step, step, source: "taken to scatter by one step as it states no repeatability" };
}

/** What a perfect axis would be given by this test. */
export function gaugeAloneOf(test: PositioningTest, seed: number): PerfectAxis {
  const { standardDeviation, step } = readingScatter(test.gauge);
  return perfectAxis({ targets: test.targetsMm.length, runs: test.runs, standardDeviation, step, seed });
}
