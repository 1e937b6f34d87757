import { createConverter } from "tslab/dist/converter.js";
import { expect, it } from "vitest";
import { neededDeclarations } from "../../kernel-lib/src/kernel/needed-declarations.js";

/** Cells that set, use, hide and set anew names of every sort; some do not compile. */
const cells = [
  'import { mm, um } from "dialbook"; const a = um(1); let plain = 1, other = "o";',
  "interface Side { n: number } class Box { constructor(readonly side: Side) {} } const s: Side = { n: 1 };",
  "/** what is in it */ const b = new Box(s); type Kind = typeof b; enum Way { up, down }",
  "function f(x: Kind): number; function f(x: string): string; function f(x: any): any { return x; }",
  "f(b).toFixed(1) + f('x') + a.in('um') + Way.up + plain",
  "const numbr = 1; number1 + plai",
  "const wrong: number = a; other",
  "a.plus(mm(1)).in('degC')",
  "const a = 'text'; interface Side { m: string }",
  "a.length; b.side.m; s",
  "class Way {} const w = new Way(); const g = (k: Kind) => k.side",
  "declare global { interface Array<T> { zz: number } } const h = [1];",
  "h.zz",
  "h.zz",
  "function counted(): number { return counted.calls } counted.calls = 1;",
  "counted.calls",
  "plain",
  "counted.calls",
  'import { um as mm, form } from "dialbook"; mm(2).in("um")',
  "const { side, ...rest } = { side: b, t: 1, u: [a] }; rest.u[0]!.length + side.side.m",
  "const later = await Promise.resolve(rest); later.t",
  "later.u; type Side = string; const z: Side = other; z",
  "s; Box; typeof Kind",
  "const f = 3; f; g",
  "namespace Shop { export const tool = 1 } Shop.tool",
  "Shop.tool",
  "form.flatness; const every = { plain, other, w, later }; every.later.u",
  "export {}; every.w; every.nothing",
  "import * as all from 'dialbook'; all.um(3).plus(um(1))",
  "um(1).plus(mm(1)); import { um } from 'dialbook'; um(2)",
];

it("tells and compiles every cell as with all declarations", () => {
  const options = { isJS: false, isBrowser: false };
  const [whole, pruned] = [createConverter(options), neededDeclarations(createConverter(options))];
  const carried = (text: string): string[] =>
    text
      .split(/\n(?=\S)/)
      .map((statement) => statement.replaceAll(/\s+/g, " ").trim())
      .filter((statement) => !/^[})]?;?$/.test(statement))
      .toSorted();
  let [all, needed] = ["", ""];
  let stopped = 0;
  for (const cell of cells) {
    const [plain, ours] = [whole.convert(all, cell), pruned.convert(needed, cell)];
    expect({ cell, told: ours.diagnostics }).toEqual({ cell, told: plain.diagnostics });
    expect({ cell, output: ours.output }).toEqual({ cell, output: plain.output });
    if (plain.diagnostics.length > 0) {
      stopped++;
      continue;
    }
    [all, needed] = [plain.declOutput!, ours.declOutput!];
    expect({ cell, declared: carried(needed) }).toEqual({ cell, declared: carried(all) });
  }
  console.log(`${cells.length} cells, ${stopped} of them told why they do not compile`);
  expect(stopped).toBeGreaterThan(4);
  expect(cells.length - stopped).toBeGreaterThan(15);
  whole.close();
  pruned.close();
}, 120_000);
