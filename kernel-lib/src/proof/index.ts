export { Difference, type DifferenceInput, difference, type PlaceChange } from "./difference.js";
export { NewSurface, type NewSurfaceInput, newSurface } from "./new-surface.js";
export { Settled, type SettledInput, settled } from "./settled.js";
