export { Bedding, type BeddingOptions, type BeddingPlace, bedding } from "./bedding.js";
export type { Underside } from "./bedding-case.js";
export type { ScrewGap, SpreadOf } from "./bedding-runs.js";
export { type Bolt, bolt, type PropertyClass } from "./bolt.js";
export { type CapScrew, capScrew } from "./cap-screw.js";
export {
  axisTestCautions,
  cutCautions,
  loosenCautions,
  measuringCautions,
  pulledHeadCautions,
  stoningCautions,
  warmUpCautions,
} from "./cautions.js";
export { type ClimbMilling, climbMilling } from "./climb.js";
export { cuttingConditions } from "./conditions.js";
export type { ConditionsInput, DoubtfulLength } from "./conditions-input.js";
export { type ConditionsFacts, CuttingConditions } from "./conditions-result.js";
export { type CutAt, type DepthOptions, depth, FacingDepth, type FirstContact } from "./depth.js";
export type { Engagement } from "./engagement.js";
export { FacedPlate, type FacedPlateInput, facedPlate, type PlateParts } from "./faced-plate.js";
export { HoldDown, type HoldDownInput, holdDown } from "./hold-down.js";
export type { CuttingLoad, HoldDownCase, TableIron, TorqueLimit } from "./hold-down-limits.js";
export { type Kienzle, kienzle, meanChip } from "./kienzle.js";
export { millingPower, Passes, type PassFacts, type PassInput, pass } from "./pass.js";
export { Plate, type PlateInput, plate } from "./plate.js";
export { type PlateMaterial, type PlateMaterialName, plateMaterial } from "./plate-material.js";
export { mostTorque, Preload, preload, type ScrewSpec } from "./preload.js";
export { CuttingProgram, type ProgramRound, program } from "./program.js";
export type { FacingJob, FacingObstacle, FacingRound, FacingScrew, HolderPart, WorkOffset } from "./program-job.js";
export { type Area, area, Reach, type ReachInput, reach } from "./reach.js";
export { Replay, type ReplayedCut, type ReplayOptions, replay } from "./replay.js";
export type { ReplayRefusal } from "./replay-blocks.js";
export type { ReplayMove, ToolSpot } from "./replay-moves.js";
export type { Coverage } from "./replay-result.js";
export { Ridges, type RidgesInput, ridges } from "./ridges.js";
export {
  type ClearanceDoubts,
  ScrewClearance,
  type ScrewClearanceInput,
  type ScrewRow,
  screwClearance,
} from "./screw-clearance.js";
export { type PlateScrew, type ScrewPatternInput, screwPattern } from "./screw-pattern.js";
export type { SlotNut } from "./slot-nut.js";
export { type EdgeMaterial, type SpeedRange, speedRange } from "./speed-range.js";
export { type TSlot, tSlot } from "./t-slot.js";
export {
  greatestPreload,
  preloadByNutFactor,
  preloadFromTorque,
  type ScrewFriction,
  tighteningTorque,
} from "./tightening.js";
