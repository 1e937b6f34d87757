export { Acceptance, type AcceptanceRule, acceptance } from "./acceptance.js";
export { conformanceProbability } from "./conformance-probability.js";
export { GlobalRisk, globalRisk } from "./global-risk.js";
export { SmallestChange, smallestChange } from "./smallest-change.js";
export { SpecificRisk, specificRisk } from "./specific-risk.js";
export type { Tolerance } from "./tolerance.js";
export type { TrueValueLaw } from "./true-value.js";
export { type Decision, Verdict, verdict } from "./verdict.js";
