export { arcsine, inexactLimits, type Limits, rectangular, trapezoidal, triangular } from "./input-limits.js";
export type { InputNotes } from "./input-notes.js";
export { fromReadings, type Readings } from "./input-readings.js";
export { fromCertificate, normal, type Spread, t, truncatedNormal } from "./input-spread.js";
