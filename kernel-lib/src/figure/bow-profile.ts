import type { BoltedPair } from "../heat/index.js";
import { liveCurve } from "./curve-live.js";
import { type CurvePlan, planCurve } from "./curve-plan.js";
import { Figure } from "./figure.js";
import { figureLines, type MapOptions } from "./options.js";
import { measuredHeight, type PrintUnits } from "./print-units.js";
import { restated } from "./restated.js";
import { stillCurve } from "./still/curve.js";

/**
 * Two unlike metals bolted together and warmed, seen from the side: flat where the joint slips, bowed where nothing slips,
 * with the 95 % band of the bow. Heights above the line through the ends.
 *
 * @example
 * figure.bowProfile(heat.boltedPair({
 *   upper: { material: heat.material("aluminium 6061"), thickness: mm(20) },
 *   lower: { material: heat.material("grey iron"), thickness: mm(40) },
 *   length: mm(500), width: mm(200), warming: kelvin(3),
 * })).texts.axes.join() // => "along the length/mm,height/µm"
 */
export function bowProfile(pair: BoltedPair, options: Pick<MapOptions, "title" | "cautions" | "notes"> = {}): Figure {
  return Figure.drawn((units) => {
    const plan = planBow(pair, options, units);
    return { texts: plan.texts, alt: plan.alt, ...liveCurve(plan), still: stillCurve(plan) };
  });
}

function planBow(
  pair: BoltedPair,
  options: Pick<MapOptions, "title" | "cautions" | "notes">,
  units: PrintUnits,
): CurvePlan {
  const { place, height } = units;
  const { upper, lower } = pair.spec;
  const shares = Array.from({ length: 81 }, (_, i) => i / 80);
  const x = shares.map((share) => place.of(pair.lengthMm * share));
  const [low, high] = pair.bondedBow.interval();
  const profile = (um: number) => shares.map((share) => height.of(4 * um * share * (1 - share)));
  const bow = measuredHeight(units, pair.bondedBow);
  const largest = Math.max(Math.abs(low.in("um")), Math.abs(high.in("um")));
  return planCurve({
    texts: {
      title: options.title ?? `Bow of ${upper.material.name} bolted to ${lower.material.name}`,
      subtitle:
        "heights above the line through the ends; dashed: the joint slips; line: nothing slips; grey: its 95 % band",
      axes: [`along the length/${place.symbol}`, `height/${height.symbol}`],
      edges: [],
      lines: [
        `bow between none and ${bow}${largest > 0 ? "; held down or stiffened it is less" : ""}`,
        ...(pair.joint
          ? [restated(pair.joint.toString(), units.system)]
          : ["the screws are not stated, so that it is open whether it slips"]),
        ...figureLines(options),
      ],
      marked: [],
    },
    alt: `Two profiles: flat where the joint slips, a bow of ${bow} where nothing slips.`,
    points: [],
    curves: [
      { x, y: profile(0), dashed: true },
      { x, y: profile(pair.bondedBow.in("um")) },
    ],
    band: { x, low: profile(low.in("um")), high: profile(high.in("um")) },
    marks: [],
  });
}
