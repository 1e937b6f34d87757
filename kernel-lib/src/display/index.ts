import "./show.js";

export { BlankSheet, blankSheet } from "./blank-sheet.js";
export type { Paper } from "./blank-sheet-style.js";
export { Caution, type CautionText, caution } from "./caution.js";
export { confirmStated } from "./confirm-stated.js";
export { Finding, finding } from "./finding.js";
export { Note, note } from "./note.js";
export { displayIn } from "./preference.js";
export { Progress, progress } from "./progress.js";
export { type CardCut, ShopCard, type ShopCardInput, shopCard } from "./shop-card.js";
export { type Cell, type Column, Table, type TableContent, table } from "./table.js";
export { type FileUsed, type FromFile, versions } from "./versions.js";
export { whenFilled } from "./when-filled.js";
