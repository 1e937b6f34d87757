// Running notebooks without a front end

export { main } from "./cli.js";
export type { Cell, CodeCell, MimeData, Notebook, Output, TextCell } from "./notebook.js";
export { notebookText, parseNotebook, readNotebook, writeNotebook } from "./notebook-file.js";
export type { RanChapter } from "./ran-chapter.js";
export { type ReportContent, writeReport } from "./report.js";
export { type RunOptions, runNotebook } from "./runner.js";
