export { Decision, type DecisionRow } from "./decision.js";
export { type Effort, type Outlay, outlay } from "./effort.js";
export type { Option, OptionKey, OptionVerdict, PredictedFlatness, PredictedHeight } from "./option.js";
export { options } from "./options.js";
export type { OptionsInput, PlateOutlook, Tolerance } from "./setting.js";
