// Units and quantities

export { MeasurementError } from "./measurement-error.js";
export * from "./quantity/index.js";
