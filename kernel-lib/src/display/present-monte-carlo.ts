import { type Figure, type HistogramCurve, type HistogramInterval, histogram } from "../figure/index.js";
import { tCdf } from "../numerics/index.js";
import { inUnit, type Kind } from "../quantity/kinds.js";
import { unitFor } from "../quantity/print.js";
import type { Quantity } from "../quantity/quantity.js";
import type { JointMonteCarlo, MonteCarlo } from "../uncertainty/index.js";
import { valuePrinter } from "../uncertainty/monte-carlo-sentence.js";
import { unitSystem } from "./preference.js";
import { stackPresenter } from "./present.js";
import { budgetParts } from "./present-uncertainty.js";

/** The sentence, the histogram with both intervals and the first-order curve, then the budget it belongs to. */
export const presentMonteCarlo = stackPresenter<MonteCarlo<Kind>>((result) => [
  result.sentence(unitSystem()),
  monteCarloFigure(result),
  ...budgetParts(result.firstOrder),
]);

/** A sentence a result, then how they hang together. */
export const presentJointMonteCarlo = stackPresenter<JointMonteCarlo<{ readonly [name: string]: Kind }>>((joint) =>
  joint.text(unitSystem()).split("\n"),
);

/** Simulated values in the unit that the result is shown in. */
export function monteCarloFigure<K extends Kind>(result: MonteCarlo<K>): Figure | undefined {
  const { kind, histogram: bars, measurand } = result;
  if (!(bars.to > bars.from)) return undefined;
  const unit = unitFor(kind, result.firstOrder.value.si, unitSystem());
  const of = (si: number) => inUnit(unit, si);
  const all = result.trials;
  return histogram({
    title: `Simulated values: ${measurand}`,
    axis: unit.symbol === "" ? measurand : `${measurand}/${unit.symbol}`,
    heightAxis: "trials in a bar/%",
    from: of(bars.from),
    to: of(bars.to),
    heights: bars.counts.map((count) => (100 * count) / all),
    ...withCurve(firstOrderCurve(result, of)),
    intervals: intervalsOf(result, of),
    notes:
      bars.outside > 0
        ? [`${((100 * bars.outside) / all).toPrecision(2)} % of the trials lie outside the picture.`]
        : [],
  });
}

function withCurve(curve: HistogramCurve | undefined): { curve?: HistogramCurve } {
  return curve === undefined ? {} : { curve };
}

function intervalsOf<K extends Kind>(result: MonteCarlo<K>, of: (si: number) => number): readonly HistogramInterval[] {
  const print = valuePrinter(result, unitSystem());
  const row = (label: string, [low, high]: readonly Quantity<K>[], ofCurve = false): HistogramInterval => {
    return { label, from: of(low!.si), to: of(high!.si), text: `${print(low!.si)} to ${print(high!.si)}`, ofCurve };
  };
  return [
    row("95 %, shortest", result.shortest),
    row("95 %, as many below as above", result.symmetric),
    row("95 %, first order: y ± U", result.firstOrder.interval(), true),
  ];
}

/** the t law that U is taken from, as its share in bars as wide as those of the histogram */
function firstOrderCurve<K extends Kind>(
  result: MonteCarlo<K>,
  of: (si: number) => number,
): HistogramCurve | undefined {
  const { from, to, counts } = result.histogram;
  const { value, standardUncertainty, effectiveDegreesOfFreedom } = result.firstOrder;
  const u = (standardUncertainty as Quantity<Kind>).si;
  if (!(u > 0)) return undefined;
  const [start, end] = [Math.min(from, value.si - 3 * u), Math.max(to, value.si + 3 * u)];
  const half = (to - from) / counts.length / 2;
  const below = (at: number) => tCdf((at - value.si) / u, effectiveDegreesOfFreedom);
  const points = Array.from({ length: 121 }, (_, i): [number, number] => {
    const at = start + (i / 120) * (end - start);
    return [of(at), 100 * (below(at + half) - below(at - half))];
  });
  return { label: "first order: t law about y", points };
}
