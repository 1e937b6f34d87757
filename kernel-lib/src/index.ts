// Units and quantities

export { MeasurementError } from "./measurement-error.js";
export * from "./quantity/index.js";

// Plain-number methods under the rest

export * as numerics from "./numerics/index.js";

// Error budgets

export * from "./uncertainty/index.js";

// Pictures, live and still

export * from "./figure/index.js";

// What a notebook shows; loading it gives the classes above their display member

export * from "./display/index.js";
