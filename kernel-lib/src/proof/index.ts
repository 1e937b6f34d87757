export {
  AgainstReference,
  againstReference,
  type Claim,
  type Score,
  type ScoredClaim,
  type StatedInterval,
} from "./against-reference.js";
export { Difference, type DifferenceInput, difference, type PlaceChange } from "./difference.js";
export { NewSurface, type NewSurfaceInput, newSurface } from "./new-surface.js";
export { type RecordFile, type RecordLine, ResultRecord, type TrendOf } from "./record.js";
export { type RecordEntry, type RecordInput, recordEntry } from "./record-entry.js";
export { appendToRecord, readRecord } from "./record-file.js";
export { parseReferenceValues, ReferenceValues, readReferenceValues } from "./reference-values.js";
export { Settled, type SettledInput, settled } from "./settled.js";
export { Trend, type TrendPoint, trend } from "./trend.js";
