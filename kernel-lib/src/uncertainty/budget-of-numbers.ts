import { type Kind, Quantity, type UnitNames } from "../quantity/index.js";
import { toSi } from "../quantity/kinds.js";
import { unitFor } from "../quantity/print.js";
import { type Budget, budgetOfOutput } from "./budget.js";
import { Evaluation } from "./evaluation.js";
import type { Given, KindOf } from "./given.js";
import type { InputForm, NamedInput } from "./trial-view.js";

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
  const inOwnUnit = ({ name, value: { kind, si } }: NamedInput): InputForm => {
    const start = Quantity.fromSi(kind, si).in(units[name] as never);
    const own = unitFor(kind, 0, units[name]);
    return { start, scale: own.per / own.times };
  };
  const evaluation = new Evaluation<I, number, Numbers<I>>(where, inputs, model, inOwnUnit);
  const quantity = (value: number) => Quantity.fromSi(result.kind, toSi(unit, value));
  const si = (value: number) => {
    const found = toSi(unit, value);
    // a quantity refuses what is no finite number
    return Math.abs(found) < Number.POSITIVE_INFINITY ? found : quantity(value).si;
  };
  return budgetOfOutput(measurand, evaluation, where, quantity, si);
}
