export { Budget, type BudgetSpec, budget } from "./budget.js";
export { budgetOfNumbers, type NumberBudgetSpec } from "./budget-of-numbers.js";
export { type BudgetRow, budgetRows } from "./budget-rows.js";
export { Budgets, type BudgetsSpec, budgets } from "./budgets.js";
export type { Caveat } from "./caveat.js";
export { claimNote } from "./claim-note.js";
export { type AsMeasured, correlated } from "./correlated.js";
export { CorrelatedGroup } from "./correlated-group.js";
export { type Coverage, measuredCoverage } from "./coverage.js";
export { effectiveDegreesOfFreedom, type VarianceLine } from "./effective-degrees-of-freedom.js";
export type { Arguments, Given, KindOf } from "./given.js";
export { type Improvement, improvements } from "./improvements.js";
export { type AnyInput, Input, type InputFacts } from "./input.js";
export { degreesOfFreedomFromDoubt } from "./input-notes.js";
export * as input from "./inputs.js";
export { JointMonteCarlo, simulateTogether } from "./joint-monte-carlo.js";
export {
  type CurvilinearTrapezoidLaw,
  type Distribution,
  type Law,
  type LimitsLaw,
  lawOf,
  momentsOf,
  type NormalLaw,
  type PlainDistribution,
  type StudentLaw,
  type TrapezoidalLaw,
  type TruncatedNormalLaw,
} from "./law.js";
export { lawOfPropagation, type NumberInputs, type Propagated } from "./law-of-propagation.js";
export { type AnyMeasured, correlation, covariance, Measured, type Term } from "./measured.js";
export { MonteCarlo } from "./monte-carlo.js";
export type { Validation } from "./monte-carlo-check.js";
export type { Histogram } from "./monte-carlo-histogram.js";
export { PooledSpread, pooledSpread, type StatedSpread } from "./pooled-spread.js";
export { type Report, report } from "./report.js";
export { ninetyFivePercent } from "./sentence.js";
export type { SimulationOptions } from "./simulate.js";
export type { ProgressMaker } from "./trial-progress.js";
export type { TrialProgress } from "./trials.js";
