export {
  Compensation,
  type CompensationOptions,
  compensation,
  type PitchCorrection,
  type SetReversal,
} from "./compensation.js";
export { type CommandedPlace, DriveTrain, type DriveTrainOptions, driveTrain } from "./drive-train.js";
export { type LengthReference, referenceInputs } from "./length-reference.js";
export { type PositionFigures, Positioning, positioning } from "./positioning.js";
export { type PositioningFigures, positioningFigures } from "./positioning-figures.js";
export { type PositioningSheetOptions, parsePositioning, readPositioning } from "./positioning-sheet.js";
export {
  type AxisName,
  type PositioningReading,
  PositioningTest,
  type PositioningTestOptions,
  positioningTest,
} from "./positioning-test.js";
export { type PerfectAxis, perfectAxis } from "./simulated-tests.js";
export { type LostMove, SmallMoves, type SmallMovesOptions, smallMoves } from "./small-moves.js";
export { parseSmallMoves, readSmallMoves } from "./small-moves-sheet.js";
export { type PeriodicError, type SystematicOptions, SystematicPart, systematicPart } from "./systematic-part.js";
