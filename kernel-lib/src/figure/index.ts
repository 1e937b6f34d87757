export { bars } from "./bars.js";
export type { BarRow, BarsContent } from "./bars-plan.js";
export { Figure, type FigureContent, type FigureTexts, type Json, type JsonObject } from "./figure.js";
export { heightMap, uncertaintyMap } from "./height-map.js";
export { heightSurface } from "./height-surface.js";
export type { FigureCaution, MapOptions, Outline, Residuals } from "./options.js";
export { residualMap, residualSurface } from "./residuals.js";
export { studyBars } from "./study-bars.js";
