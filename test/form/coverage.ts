import { flatness } from "../../kernel-lib/src/form/index.js";
import { leastSquaresPlane, minimumZonePlane } from "../../kernel-lib/src/numerics/index.js";
import type { Kind, Quantity } from "../../kernel-lib/src/quantity/index.js";
import type { Measured } from "../../kernel-lib/src/uncertainty/index.js";
import { ding, forms, grid, planted, slightForms } from "./planted.js";

/** how often the intervals of the figures hold the planted truth */
export interface Coverage {
  readonly count: number;
  readonly overall: number;
  readonly tiltX: number;
  readonly tiltY: number;
  readonly zone: number;
}

/** Surveys of one form under seeds first … first + count − 1. */
export function coverageOf(name: string, count: number, first: number, noiseUm: number, withZone: boolean): Coverage {
  const form = { ...forms, ...slightForms, ding }[name]!;
  const hits = { overall: 0, tiltX: 0, tiltY: 0, zone: 0 };
  const x = grid.map((p) => p.xMm);
  const y = grid.map((p) => p.yMm);
  const truth = grid.map((p) => form(p.xMm, p.yMm));
  const plane = leastSquaresPlane(x, y, truth);
  const { zone } = minimumZonePlane(x, y, truth);
  for (let seed = first; seed < first + count; seed++) {
    const found = flatness(planted({ form, noiseUm, passes: 2, seed }).surface, { seed });
    hits.overall += holds(found.overall, (plane.highest - plane.lowest) * 1e-6);
    hits.tiltX += holds(found.tiltX, plane.slopeX / 1000);
    hits.tiltY += holds(found.tiltY, plane.slopeY / 1000);
    if (withZone) hits.zone += holds(found.minimumZone.corrected, zone * 1e-6);
  }
  return { count, ...hits };
}

function holds<K extends Kind>(measured: Measured<K>, truthSi: number): number {
  const U = (measured.expandedUncertainty() as Quantity<Kind>).si;
  return Math.abs(measured.value.si - truthSi) <= U ? 1 : 0;
}

/** Least and greatest count of hits that a claimed rate gives in all but one of a thousand runs. */
export function binomialBand(count: number, rate: number): readonly [number, number] {
  const logs: number[] = [count * Math.log(1 - rate)];
  const odds = Math.log(rate / (1 - rate));
  for (let k = 1; k <= count; k++) logs.push(logs[k - 1]! + Math.log((count - k + 1) / k) + odds);
  const law = logs.map(Math.exp);
  let low = 0;
  for (let below = law[0]!; below < 0.0005; below += law[low]!) low++;
  let high = count;
  for (let above = law[count]!; above < 0.0005; above += law[high]!) high--;
  return [low, high];
}
