// Units and quantities

export { MeasurementError } from "./measurement-error.js";
export * from "./quantity/index.js";

// Plain-number methods under the rest

export * as numerics from "./numerics/index.js";
