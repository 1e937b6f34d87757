import { type Kind, Quantity, type UnitNames } from "../quantity/index.js";
import { inUnit, toSi } from "../quantity/kinds.js";
import { unitFor } from "../quantity/print.js";
import { type Budget, budgetOfOutput } from "./budget.js";
import { Evaluation } from "./evaluation.js";
import type { Arguments, Given, KindOf } from "./given.js";
import { overTrials } from "./trial-view.js";

export interface NumberBudgetSpec<I extends { readonly [name: string]: Given }, R extends Kind> {
  readonly measurand: string;
  readonly inputs: I;
  /** the unit in which the model wants each input */
  readonly units: { readonly [P in keyof I]: UnitNames[KindOf<I[P]>] };
  /** kind and unit of the number that the model gives */
  readonly result: { readonly kind: R; readonly unit: UnitNames[R] };
  readonly model: (inputs: Numbers<I>) => number;
}

/** a number under each name */
type Numbers<I> = { readonly [P in keyof I]: number };

/**
 * The same budget for a formula written in plain numbers, each in a stated unit: for what the units of a shop do not
 * carry through (powers, roots, tables).
 *
 * @throws MeasurementError as `budget` does
 * @example
 * uncertainty.budgetOfNumbers({
 *   measurand: "sag of the bar",
 *   inputs: { L: input.normal({ label: "length", estimate: mm(200), standardUncertainty: mm(1) }) },
 *   units: { L: "mm" },
 *   result: { kind: "length", unit: "um" },
 *   model: ({ L }) => 1e-8 * L ** 4,
 * }).text() // => "16.00 µm ± 0.63 µm (k = 2.0)"
 */
export function budgetOfNumbers<I extends { readonly [name: string]: Given }, R extends Kind>(
  spec: NumberBudgetSpec<I, R>,
): Budget<R> {
  const { measurand, inputs, units, result, model } = spec;
  const where = `budget "${measurand}"`;
  const unit = unitFor(result.kind, 0, result.unit);
  const unitOf = (name: string, kind: Kind) => unitFor(kind, 0, units[name]);
  const evaluation = new Evaluation(where, inputs, (quantities: Arguments<I>) => {
    const numbers: { [name: string]: number } = {};
    for (const [name, quantity] of Object.entries<Quantity<Kind>>(quantities)) {
      numbers[name] = quantity.in(units[name] as never);
    }
    return Quantity.fromSi(result.kind, toSi(unit, model(numbers as Numbers<I>)));
  });
  const trials = overTrials<Numbers<I>>(
    { names: evaluation.names, count: evaluation.bases.length },
    ({ name, value: { kind, si } }) => {
      const own = unitOf(name, kind);
      return { start: inUnit(own, si), scale: own.per / own.times };
    },
    (numbers) => toSi(unit, model(numbers)),
    (shifts) => evaluation.at(shifts),
  );
  return budgetOfOutput(measurand, evaluation, where, (output) => output, trials);
}
