export { type PositioningFigures, positioningFigures } from "./positioning-figures.js";
