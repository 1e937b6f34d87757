export { Decision, type DecisionRow } from "./decision.js";
export { type Effort, type Outlay, outlay } from "./effort.js";
export { type CostRow, ExpectedCost } from "./expected-cost.js";
export type {
  Option,
  OptionKey,
  OptionVerdict,
  OwnOption,
  PredictedFlatness,
  PredictedHeight,
  PredictedLength,
} from "./option.js";
export { options } from "./options.js";
export type { FlatnessTolerance, OptionsInput, PlateOutlook } from "./setting.js";
export type { Stakes } from "./stakes.js";
export type { TextureOfCut } from "./texture.js";
export type { DrawnMean } from "./worth-of-looking.js";
