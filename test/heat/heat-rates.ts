import { settling } from "../../kernel-lib/src/heat/index.js";
import { minutes, um } from "../../kernel-lib/src/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";

const at = [0, 3, 6, 10, 15, 20, 30, 40, 50, 60, 75, 90, 105, 120, 135, 150, 165, 180];
const leftUm = 1;

interface Interval {
  interval(): readonly [{ readonly si: number }, { readonly si: number }];
}
const holds = (found: Interval, si: number) => found.interval()[0].si <= si && si <= found.interval()[1].si;

/** Records with planted size, time constant and scatter, read to a step: how often 95 % intervals hold what was planted. */
export function heatRates(cases: number, seed: number) {
  const hits = {
    "time constant": 0,
    "whole change": 0,
    "wait until 1 µm is left": 0,
    "change in between": 0,
    "sure by": 0,
  };
  for (let k = 0; k < cases; k++) {
    const { normal, uniform } = randomStream(seed + k, 16);
    const tau = 25 + 45 * uniform();
    const size = (uniform() < 0.5 ? -1 : 1) * (12 + 18 * uniform());
    const noise = 0.4 + 0.5 * uniform();
    const zero = 20 * uniform();
    const value = (t: number) => zero - size * Math.expm1(-t / tau);
    const values = at.map((t) => um(Math.round((value(t) + noise * normal()) / 0.5) * 0.5));
    const curve = settling({ name: "nose", times: at.map(minutes), values, resolution: um(0.5), timeConstants: 1 });
    const wait = curve.waitUntilLeft(um(leftUm));
    const planted = 60 * tau * Math.log(Math.abs(size) / leftUm);
    if (holds(curve.timeConstant, 60 * tau)) hits["time constant"]++;
    if (holds(curve.total, size * 1e-6)) hits["whole change"]++;
    if (holds(wait.time, planted)) hits["wait until 1 µm is left"]++;
    if (holds(curve.changeBetween(minutes(20), minutes(80)), (value(80) - value(20)) * 1e-6))
      hits["change in between"]++;
    if (wait.sureBy.si >= planted) hits["sure by"]++;
  }
  return hits;
}

/** binomial 99.9 % band about a claim of 95 % */
export function band(cases: number): readonly [number, number] {
  const half = 3.29 * Math.sqrt(cases * 0.95 * 0.05);
  return [Math.ceil(0.95 * cases - half), Math.min(cases, Math.floor(0.95 * cases + half))];
}
