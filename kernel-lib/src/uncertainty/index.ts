export {
  type Arguments,
  Budget,
  type BudgetSpec,
  budget,
  type Given,
  type KindOf,
} from "./budget.js";
export { budgetOfNumbers, type NumberBudgetSpec } from "./budget-of-numbers.js";
export { type BudgetRow, budgetRows } from "./budget-rows.js";
export { type AsMeasured, correlated } from "./correlated.js";
export { effectiveDegreesOfFreedom, type VarianceLine } from "./effective-degrees-of-freedom.js";
export { type AnyInput, type Distribution, Input, type InputFacts } from "./input.js";
export * as input from "./inputs.js";
export { type AnyMeasured, correlation, covariance, Measured, type Term } from "./measured.js";
export { type Report, report } from "./report.js";
export { ninetyFivePercent } from "./sentence.js";
