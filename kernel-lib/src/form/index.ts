export type { CorrectedWidth } from "./corrected-width.js";
export { type Extreme, Flatness, flatness } from "./flatness.js";
export type { LocalArea } from "./local-areas.js";
export { LocalHighs, LocalLows, localHighs, localLows } from "./local-highs.js";
export { type FormTerm, MakeUp, makeUp, type Rest } from "./make-up.js";
export { formName, placeWords, relativeWords } from "./place-words.js";
export type { SurfaceSource } from "./places.js";
export { FormReading, reading } from "./reading.js";
export { type PlaneFit, plane, ReferencePlane } from "./reference-plane.js";
