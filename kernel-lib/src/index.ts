// Units and quantities

export { MeasurementError } from "./measurement-error.js";
export * from "./quantity/index.js";

// Plain-number methods under the rest

export * as numerics from "./numerics/index.js";

// Error budgets: inputs, law of propagation, results that stay correlated

export * as uncertainty from "./uncertainty/index.js";
export {
  Budget,
  type BudgetRow,
  Budgets,
  budget,
  budgets,
  correlated,
  Input,
  input,
  Measured,
} from "./uncertainty/index.js";

// Readings: gauge, sheet, survey and its health

export * as survey from "./survey/index.js";
export {
  closeSheet,
  type Gauge,
  gauge,
  type Health,
  parseSurvey,
  readSurvey,
  type Survey,
  setStrictSheets,
} from "./survey/index.js";

// What a form is: planes, flatness

export * as form from "./form/index.js";

// How well an axis goes where it is told

export * as axis from "./axis/index.js";

// What warmth does, and how long to wait

export * as heat from "./heat/index.js";

// Verdicts and what can be told apart

export * as conformity from "./conformity/index.js";
export { smallestChange, type Tolerance, type Verdict, verdict } from "./conformity/index.js";

// Facing a plate in place, and the options against each other

export * as decision from "./decision/index.js";
export * as facing from "./facing/index.js";

// Before and after

export * as proof from "./proof/index.js";

// Pictures, live and still

export * as figure from "./figure/index.js";

// What a notebook shows; loading it gives the classes above their display member

export * from "./display/index.js";
