export { Difference, type DifferenceInput, difference, type PlaceChange } from "./difference.js";
