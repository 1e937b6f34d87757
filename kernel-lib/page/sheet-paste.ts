import { parseDecimal } from "../src/quantity/parse.js";
import { shown } from "../src/survey/sheet-error.js";
import { counted } from "../src/words.js";
import { isDatum, type SheetModel } from "./sheet-model.js";
import { nameOf, unitText } from "./sheet-typed.js";

/** A pasted column laid onto the sheet: which reading gets which text. Nothing is written yet. */
export type Pasted =
  | { readonly is: "refused"; readonly sentence: string }
  | {
      readonly is: "laid";
      readonly cells: readonly { readonly index: number; readonly cell: string }[];
      readonly sentence: string;
    };

/** Whether a pasted text is more than one reading. */
export function isColumn(text: string): boolean {
  return /[\r\n\t]/.test(text.trim());
}

/**
 * Lays a pasted column onto the readings from one on, in the order of typing. All of it or nothing: one line that is no
 * number, two sorts of decimal mark, or more lines than readings refuse it. A blank line leaves its reading as it is.
 */
export function layPasted(text: string, from: number, model: SheetModel, withDatums: boolean): Pasted {
  const lines = text.replace(/[\r\n\s]+$/, "").split(/\r\n|\n|\r/);
  if (lines.some((line) => line.trim().includes("\t"))) {
    return refused("more than one column stands in it; copy the column of the readings alone");
  }
  const values = lines.map((line) => line.trim().replaceAll("−", "-"));
  const wrong = values.findIndex((value) => value !== "" && parseDecimal(value) === undefined);
  if (wrong >= 0) {
    return refused(
      `line ${wrong + 1}, ${shown(values[wrong]!)}, is not a number; correct it where it was copied, digits in ${unitText(model)} only`,
    );
  }
  const [comma, point] = [",", "."].map((mark) => values.findIndex((value) => value.includes(mark)));
  if (comma! >= 0 && point! >= 0) {
    return refused(
      `line ${comma! + 1} has a decimal comma and line ${point! + 1} a point; use one of the two throughout`,
    );
  }
  const targets = indicesFrom(from, model, withDatums);
  if (values.length > targets.length) {
    return refused(
      `${values.length} lines, and ${counted(targets.length, "reading is left", "readings are left")} from ${nameOf(model.spots[from]!)} on; begin further up or copy fewer`,
    );
  }
  const cells = values.flatMap((value, i) =>
    value === "" ? [] : { index: targets[i]!, cell: value.replace(/[.,]/, model.mark) },
  );
  const [first, last] = [model.spots[targets[0]!]!, model.spots[targets[values.length - 1]!]!];
  return {
    is: "laid",
    cells,
    sentence: `${counted(cells.length, "reading")} in ${unitText(model)}, from ${nameOf(first)} to ${nameOf(last)}`,
  };
}

function indicesFrom(from: number, { spots }: SheetModel, withDatums: boolean): number[] {
  const all = Array.from({ length: spots.length - from }, (_, i) => from + i);
  return withDatums ? all : all.filter((i) => !isDatum(spots[i]!.place));
}

function refused(sentence: string): Pasted {
  return { is: "refused", sentence: `the pasted text: ${sentence}; nothing was entered` };
}
