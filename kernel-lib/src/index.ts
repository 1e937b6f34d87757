// Units and quantities

export { MeasurementError } from "./measurement-error.js";
export * from "./quantity/index.js";

// Plain-number methods under the rest

export * as numerics from "./numerics/index.js";

// Error budgets

export * from "./uncertainty/index.js";

// Verdicts and what can be told apart

export * from "./conformity/index.js";

// Facing a plate in place, and the options against each other

export * as decision from "./decision/index.js";
export * as facing from "./facing/index.js";

// Pictures, live and still

export * from "./figure/index.js";

// What a notebook shows; loading it gives the classes above their display member

export * from "./display/index.js";
