export {
  Compensation,
  type CompensationOptions,
  compensation,
  type PitchCorrection,
  type SetReversal,
} from "./compensation.js";
export { Diagnosis, type DiagnosisOptions, diagnosis } from "./diagnosis.js";
export type { AxisFinding } from "./diagnosis-finding.js";
export { type CommandedPlace, DriveTrain, type DriveTrainOptions, driveTrain } from "./drive-train.js";
export type { LostMove } from "./following-moves.js";
export type { ReadingScatter } from "./gauge-alone.js";
export { type LengthReference, referenceInputs } from "./length-reference.js";
export { LiftUnderPull, type LiftUnderPullOptions, liftUnderPull } from "./lift-under-pull.js";
export type { DrivePeriods } from "./periods.js";
export { type PositionFigures, Positioning, positioning } from "./positioning.js";
export { type PositioningFigures, positioningFigures } from "./positioning-figures.js";
export {
  type ExpectedOfTest,
  type PlannedPosition,
  type PlannedTarget,
  PositioningPlan,
  positioningPlan,
} from "./positioning-plan.js";
export type { PositioningPlanOptions } from "./positioning-plan-options.js";
export { type PositioningSheetOptions, parsePositioning, readPositioning } from "./positioning-sheet.js";
export {
  type AxisName,
  type PositioningReading,
  PositioningTest,
  type PositioningTestOptions,
  positioningTest,
} from "./positioning-test.js";
export type { GrowTogether } from "./root-sum-square.js";
export { type PerfectAxis, perfectAxis } from "./simulated-tests.js";
export { SmallMoves, type SmallMovesOptions, smallMoves } from "./small-moves.js";
export { parseSmallMoves, readSmallMoves } from "./small-moves-sheet.js";
export type { PeriodicError } from "./systematic-fit.js";
export { SystematicPart, systematicPart } from "./systematic-part.js";
export { ThreeAxes, type ThreeAxesOptions, threeAxes } from "./three-axes.js";
export type { AxisErrors, Contribution } from "./tool-contributions.js";
