import ts from "@tslab/typescript-for-tslab";
import { expect, it } from "vitest";
import { placeInCell } from "../../kernel-lib/src/kernel/cell-lines.js";

const source = `// the table, before
import { form, mm } from "dialbook";

interface Row {
  label: string;
  z: number;
  note?: string;
}
const rows: readonly Row[] = [{ label: "C4", z: 3 }];

function flat(limit: number): boolean {
  if (limit < 0) throw new RangeError("limit");
  return form.flatness(rows).isLess(mm(limit));
}
flat(-1)`;
const compiled = ts.transpileModule(source, {
  compilerOptions: { target: ts.ScriptTarget.ES2022, module: ts.ModuleKind.CommonJS, esModuleInterop: true },
}).outputText;

/** where a text stands, from 1 */
function at(text: string, wanted: string) {
  const rows = text.split("\n");
  const line = rows.findIndex((row) => row.includes(wanted)) + 1;
  return { line, column: rows[line - 1]!.indexOf(wanted) + 1 };
}

it.each(["throw new RangeError", "flatness(", "isLess(", "flat(-1)", "if (limit"])(
  "finds %s of the compiled text in the cell, past dropped types and added prefixes",
  (wanted) => {
    expect(placeInCell(source, compiled, at(compiled, wanted))).toEqual(at(source, wanted));
    expect(at(compiled, wanted).line).not.toBe(at(source, wanted).line);
  },
);

it("names no place where the two texts have nothing in common, or there is no cell", () => {
  expect(placeInCell("a", "b", { line: 1, column: 1 })).toBeUndefined();
  expect(placeInCell("", "b", { line: 1, column: 1 })).toBeUndefined();
  expect(placeInCell("a", "a", { line: 9, column: 1 })).toBeUndefined();
});
