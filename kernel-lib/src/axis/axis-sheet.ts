export { HeadedSheet as AxisSheet } from "../survey/headed-sheet.js";
