export { conformanceProbability } from "./conformance-probability.js";
export { SmallestChange, smallestChange } from "./smallest-change.js";
export type { Tolerance } from "./tolerance.js";
export { type Decision, Verdict, verdict } from "./verdict.js";
