export { BoltedPair, type BoltedPairSpec, boltedPair, type Layer } from "./bolted-pair.js";
export { gradientBow } from "./gradient-bow.js";
export { type AtTemperature, growth, lengthAt20, referenceTemperature } from "./growth.js";
export { Joint, type JointSpec, type JointState } from "./joint.js";
export { type Known, Material, material, ownMaterial } from "./material.js";
export { Materials, materials } from "./materials.js";
export { Settling } from "./settling.js";
export type { SettlingKind, SettlingReading } from "./settling-content.js";
export type { Evidence } from "./settling-fit.js";
export { type ChangeOf, type SettlingSpec, settling } from "./settling-of-readings.js";
export { Wait } from "./wait.js";
export { WarmUp, type WarmUpColumn } from "./warm-up.js";
export { parseWarmUp, readWarmUp, type WarmUpOptions } from "./warm-up-sheet.js";
export { type ReadDifference, WarmthBow, type WarmthBowSpec, type WarmthVerdict, warmthBow } from "./warmth-bow.js";
export {
  correctedForWarmth,
  type WarmReading,
  WarmthCorrection,
  type WarmthCorrectionSpec,
} from "./warmth-correction.js";
