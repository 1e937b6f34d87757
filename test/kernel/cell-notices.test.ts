import { mkdtempSync, rmSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { cellNames, parsedCell } from "../../kernel-lib/src/kernel/cell-names.js";
import { CellNotices } from "../../kernel-lib/src/kernel/cell-notices.js";
import { LibraryAge } from "../../kernel-lib/src/kernel/library-age.js";

let folder: string;
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "library-"));
  for (const file of ["index.js", "index.d.ts"]) writeFileSync(join(folder, file), "");
});
afterAll(() => rmSync(folder, { recursive: true }));

const notices = () => new CellNotices(new LibraryAge(folder));

describe("the names of a cell", () => {
  const names = (source: string) => {
    const { set, read } = cellNames(parsedCell(source));
    return { set: [...set.keys()], read };
  };

  it("are those it sets, in every way there is, and those it takes from elsewhere", () => {
    expect(names("const a = b.c, { d, e: f, ...g } = h; let [i] = j;")).toEqual({
      set: ["a", "d", "f", "g", "i"],
      read: ["b", "h", "j"],
    });
    expect(
      names('import k, { l as m } from "x"; import * as n from "y"; function o() {} class P {} enum Q { R }'),
    ).toEqual({ set: ["k", "m", "n", "o", "P", "Q"], read: [] });
    expect(names("depth = start + 1; s += t;")).toEqual({ set: ["depth", "s"], read: ["depth", "start", "s", "t"] });
  });

  it("are not those of its own functions, of members, of keys or of types", () => {
    expect(names("const a: Length = rows.map((row) => ({ key: row.mean, ok }));").read).toEqual(["rows", "ok"]);
    expect(names("function f(x: number) { const y = x; return y; }").read).toEqual([]);
  });
});

describe("a loop at the top level of a cell", () => {
  it("of many rounds is told of before it runs, with its line and a name it uses", () => {
    expect(notices().before("let sum = 0;\nfor (let i = 0; i < 1e7; i++) sum += i;")).toEqual([
      "line 2: a loop of 10 000 000 rounds at the top level of a cell, where each use of sum can be 400 times slower; put it into a function and call that, as in: function work() { … }",
    ]);
    expect(
      notices().before(
        "const n = 2000; let s = 0;\nfor (let i = 0; i < n; i++) {\n  for (let j = 0; j < n; j++) s += j;\n}",
      ),
    ).toEqual([expect.stringMatching(/^line 2: a loop of 4 000 000 rounds /)]);
  });

  it("of rounds nobody can count is told of when it took long, and only then", () => {
    const source = "let x = 9;\nwhile (x > 1) x = next(x);";
    expect(notices().before(source)).toEqual([]);
    expect(notices().after(source, 1, "a", 0.9)).toEqual([]);
    expect(notices().after(source, 1, "a", 3.21)).toEqual([
      "line 2: the cell took 3.2 s with a loop at its top level, where each use of x can be 400 times slower; put it into a function and call that, as in: function work() { … }",
    ]);
  });

  it("that is quick anyway is let be: in a function, on names of its own, short, or waiting", () => {
    for (const source of [
      "function f() { let s = 0; for (let i = 0; i < 1e9; i++) s += i; return s; }",
      "for (let i = 0, s = 0; i < 1e9; i++) s += i;",
      "let s = 0; for (let i = 0; i < 1000; i++) s += i;",
      "let s = 0; for (let i = 0; i < 1e9; i++) s += await next();",
    ]) {
      expect(notices().before(source)).toEqual([]);
    }
  });

  it("is known to use names of earlier cells", () => {
    const told = notices();
    told.after("let total = 0;", 1, "a", 0);
    expect(told.before("for (let i = 0; i < 3e6; i++) total += i;")).toHaveLength(1);
  });
});

describe("a name set anew", () => {
  it("is told of once, with the cells whose results came from the one before", () => {
    const told = notices();
    told.after("const depth = mm(1);", 1, "a", 0);
    told.after("depth.times(2)", 2, "b", 0);
    told.after("depth.times(3)", 3, "c", 0);
    expect(told.after("const depth = mm(2);", 4, "d", 0)).toEqual([
      "depth is set anew here: the results of cells [2], [3] came from the depth before; run them again, or give this one another name",
    ]);
    expect(told.after("const depth = mm(3);", 5, "d", 0)).toEqual([]);
  });

  it("concerns no cell that was run again since, and no name that nothing used", () => {
    const told = notices();
    told.after("const depth = mm(1);", 1, "a", 0);
    told.after("depth.times(2)", 2, "b", 0);
    expect(told.after("const depth = mm(2);", 3, "a", 0)).toHaveLength(1);
    told.after("depth.times(2)", 4, "b", 0);
    expect(told.after("const width = mm(2);", 5, "e", 0)).toEqual([]);
    expect(told.after("const depth = mm(4);", 6, "a", 0)).toEqual([
      "depth is set anew here: the result of cell [4] came from the depth before; run it again, or give this one another name",
    ]);
  });

  it("is the same name where the cell is run again as it was, unless what it works with has changed", () => {
    const told = notices();
    told.after('import { mm } from "dialbook"; const start = mm(1);', 1, "a", 0);
    told.after("const depth = start.times(2);", 2, "b", 0);
    told.after("depth", 3, "c", 0);
    told.after('import { mm } from "dialbook"; const start = mm(1);', 4, "a", 0);
    expect(told.after("const depth = start.times(2);", 5, "b", 0)).toEqual([]);
    expect(told.after('import { mm } from "dialbook"; const start = mm(7);', 6, "a", 0)).toHaveLength(1);
    expect(told.after("const depth = start.times(2);", 7, "b", 0)).toHaveLength(1);
  });
});

it("tells once of a library built anew under a running kernel", () => {
  const told = notices();
  expect(told.before("1")).toEqual([]);
  const later = Date.now() / 1000 + 60;
  utimesSync(join(folder, "index.js"), later, later);
  expect(told.before("1")).toEqual([
    "dialbook was built anew while this kernel ran: cells are checked against the new build and run the old one; restart the kernel",
  ]);
  expect(told.before("1")).toEqual([]);
});
