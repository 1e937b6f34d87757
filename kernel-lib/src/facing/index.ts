export { type CapScrew, capScrew } from "./cap-screw.js";
export { axisTestCautions, cutCautions, loosenCautions, measuringCautions, stoningCautions } from "./cautions.js";
export { type CutAt, type DepthOptions, depth, FacingDepth, type FirstContact } from "./depth.js";
export { millingPower, Passes, type PassFacts, type PassInput, pass } from "./pass.js";
export { type Area, area, Reach, type ReachInput, reach } from "./reach.js";
export { Ridges, type RidgesInput, ridges } from "./ridges.js";
export {
  type ClearanceDoubts,
  ScrewClearance,
  type ScrewClearanceInput,
  type ScrewRow,
  screwClearance,
} from "./screw-clearance.js";
