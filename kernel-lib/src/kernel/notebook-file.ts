import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { basename } from "node:path";
import { MeasurementError } from "../measurement-error.js";
import type { Cell, MimeData, Notebook, Output } from "./notebook.js";
import { writeWhole } from "./whole-file.js";

type Raw = { readonly [key: string]: unknown };

/** Reads a notebook file; what is not one is refused with one sentence. */
export function readNotebook(path: string): Notebook {
  let text: string;
  try {
    text = readFileSync(path, "utf8");
  } catch {
    throw new MeasurementError(
      "notebook-missing",
      `${path}: there is no such notebook; give the path of an .ipynb file`,
    );
  }
  return parseNotebook(text, basename(path));
}

/** Reads the text of a notebook of format 4; a cell without an id (before 4.5) gets one from its place and its text. */
export function parseNotebook(text: string, name: string): Notebook {
  const raw = parseJson(text, name);
  if (raw.nbformat !== 4 || typeof raw.nbformat_minor !== "number" || !Array.isArray(raw.cells)) {
    throw new MeasurementError(
      "notebook-format",
      `${name}: notebook format ${JSON.stringify(raw.nbformat)} is not read; open it in Jupyter and save it as format 4`,
    );
  }
  return {
    cells: raw.cells.map((cell: unknown, index) => readCell(cell, index, name)),
    metadata: isRaw(raw.metadata) ? raw.metadata : {},
    nbformat: 4,
    nbformat_minor: Math.max(raw.nbformat_minor, 5),
  };
}

/** Text of a notebook file, byte for byte what Jupyter itself would write: sorted keys, one space, lines as a list. */
export function notebookText(notebook: Notebook): string {
  const raw = { ...notebook, cells: notebook.cells.map(writeCell) };
  return `${JSON.stringify(sorted(raw), null, 1)}\n`;
}

/** Writes a notebook whole or not at all: beside the old file first, then in its place. */
export function writeNotebook(path: string, notebook: Notebook): void {
  writeWhole(path, notebookText(notebook));
}

/** levels in levels, far beyond what any notebook has; what goes deeper would exhaust whoever reads it */
const deepest = 200;

function isDeeper(value: unknown, levels: number): boolean {
  if (typeof value !== "object" || value === null) return false;
  return levels === 0 || Object.values(value).some((inner) => isDeeper(inner, levels - 1));
}

function parseJson(text: string, name: string): Raw {
  try {
    const value: unknown = JSON.parse(text);
    if (isRaw(value) && !isDeeper(value, deepest)) return value;
  } catch {
    // refused below, like any other text that is no notebook
  }
  throw new MeasurementError("notebook-corrupt", `${name}: is not a notebook, or is damaged; restore it from a copy`);
}

function readCell(cell: unknown, index: number, name: string): Cell {
  const type = isRaw(cell) ? cell.cell_type : undefined;
  if (!isRaw(cell) || (type !== "code" && type !== "markdown" && type !== "raw")) {
    throw new MeasurementError(
      "notebook-cell",
      `${name}: cell ${index + 1} is of no known kind; restore it from a copy`,
    );
  }
  const source = joined(cell.source);
  const common = {
    id: typeof cell.id === "string" ? cell.id : idFor(source, index),
    metadata: isRaw(cell.metadata) ? cell.metadata : {},
    source,
  };
  if (type !== "code") {
    const attachments = cell.attachments as { readonly [name: string]: MimeData } | undefined;
    return { cell_type: type, ...common, ...(attachments && { attachments }) };
  }
  const count = typeof cell.execution_count === "number" ? cell.execution_count : null;
  const outputs = Array.isArray(cell.outputs) ? cell.outputs.filter(isRaw).map(readOutput) : [];
  return { cell_type: "code", ...common, execution_count: count, outputs };
}

function idFor(source: string, index: number): string {
  return createHash("sha256").update(`${index}\n${source}`).digest("hex").slice(0, 8);
}

function readOutput(raw: Raw): Output {
  if (raw.output_type === "stream") {
    return { output_type: "stream", name: raw.name === "stderr" ? "stderr" : "stdout", text: joined(raw.text) };
  }
  if (raw.output_type === "error") {
    const traceback = Array.isArray(raw.traceback) ? raw.traceback.map(String) : [];
    return { output_type: "error", ename: String(raw.ename), evalue: String(raw.evalue), traceback };
  }
  const data = isRaw(raw.data) ? mapTexts(raw.data, joined) : {};
  const metadata = isRaw(raw.metadata) ? raw.metadata : {};
  if (raw.output_type === "display_data") return { output_type: "display_data", data, metadata };
  const count = typeof raw.execution_count === "number" ? raw.execution_count : null;
  return { output_type: "execute_result", execution_count: count, data, metadata };
}

function writeCell(cell: Cell): Raw {
  const source = lines(cell.source);
  if (cell.cell_type !== "code") return { ...cell, source };
  return { ...cell, source, outputs: cell.outputs.map(writeOutput) };
}

function writeOutput(output: Output): Raw {
  if (output.output_type === "stream") return { ...output, text: lines(output.text) };
  if (output.output_type === "error") return { ...output };
  return { ...output, data: mapTexts(output.data, (text) => (typeof text === "string" ? lines(text) : text)) };
}

/** Applies a change to the text forms of a bundle; JSON forms stay the values they are. */
function mapTexts(data: MimeData, change: (value: unknown) => unknown): MimeData {
  return Object.fromEntries(
    Object.entries(data).map(([mime, value]) => [
      mime,
      /^application\/(?:.*\+)?json$/.test(mime) ? value : change(value),
    ]),
  );
}

function joined(text: unknown): string {
  return Array.isArray(text) ? text.join("") : typeof text === "string" ? text : "";
}

/** each line with its end, so that joining them gives the text back */
function lines(text: string): string[] {
  return text.match(/[^\n]*\n|[^\n]+/g) ?? [];
}

function sorted(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(sorted);
  if (!isRaw(value)) return value;
  return Object.fromEntries(
    Object.keys(value)
      .sort()
      .map((key) => [key, sorted(value[key])]),
  );
}

function isRaw(value: unknown): value is Raw {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}
