import type { Diagnostic } from "tslab/dist/converter.js";
import { expect, it } from "vitest";
import { spellOut } from "../../kernel-lib/src/kernel/shorthand.js";

it("spells out short properties of objects, and nothing else", () => {
  expect(spellOut("f({ a, b: 2, c })").source).toBe("f({ a: a, b: 2, c: c })");
  expect(spellOut("({ a = 1 } = x)").source).toBe("({ a: a = 1 } = x)");
  for (const source of ["const { a } = x", 'import { a } from "b"', "function f({ a }) {}", "f({ a() {} })", "{ a }"]) {
    expect(spellOut(source).source, source).toBe(source);
  }
});

it("leads a complaint back to where it was typed", () => {
  const source = "g();\nf({ ab, cd }).x";
  const spelled = spellOut(source);
  expect(spelled.source).toBe("g();\nf({ ab: ab, cd: cd }).x");
  for (const [text, at] of [
    ["ab: ab", 4],
    ["cd: cd", 8],
    ["x", 14],
  ] as const) {
    const offset = spelled.source.indexOf(text);
    const place = { offset, line: 1, character: offset - 5 };
    const diagnostic: Diagnostic = { start: place, end: place, messageText: "", category: 1, code: 1 };
    expect(spelled.typed(diagnostic).start, text).toEqual({ offset: at + 5, line: 1, character: at });
  }
});
