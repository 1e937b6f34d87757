import { ErrorBox, type ErrorText } from "../display/error-box.js";
import type { CellError } from "./cell-errors.js";

/** An error of a cell as a box: what, where, what to do, the lines of the cells; lines of libraries folded away. */
export function cellErrorBox({ ename, evalue, traceback, hidden, place }: CellError, cell: number): ErrorBox {
  const [sentence, remedy] = remedyApart(ename, withoutPlace(evalue));
  const lines = traceback.filter((line) => line !== `${ename}: ${evalue}`);
  const text: ErrorText = {
    title: ename.replace(/(?<=[a-z])(?=[A-Z])/g, " "),
    where: place ? `cell [${cell}], line ${place.line}` : `cell [${cell}]`,
    sentence,
    ...(remedy !== undefined && { remedy }),
    ...(lines.length > 0 && { detail: lines.join("\n") }),
    ...(hidden && { hidden }),
  };
  return new ErrorBox(text);
}

/** the place stands in the heading of the box */
function withoutPlace(evalue: string): string {
  return evalue.replace(/^line \d+, column \d+: /, "");
}

/** What to do stands last in a sentence of ours, after a semicolon. */
function remedyApart(ename: string, evalue: string): readonly [sentence: string, remedy?: string] {
  const at = evalue.lastIndexOf("; ");
  if (at < 0 || (ename !== "MeasurementError" && ename !== "CompileError")) return [evalue];
  const remedy = evalue.slice(at + 2);
  return [evalue.slice(0, at), remedy.charAt(0).toUpperCase() + remedy.slice(1)];
}
