export { largest, mean, range, smallest, sum } from "./aggregate.js";
export { display, type MimeBundle } from "./display-member.js";
export type { Kind, UnitNames, UnitSystem } from "./kinds.js";
export type { Added, Difference, Product, Quotient } from "./products.js";
export * from "./quantity.js";
export * from "./unit-functions.js";
