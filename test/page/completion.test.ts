import { describe, expect, it } from "vitest";
import { completionOf, wordBefore } from "../../kernel-lib/page/completion.js";

describe("a name in the list at the cursor", () => {
  it("shows its signature on one line, cut where it is long", () => {
    const short = completionOf({ text: "mm", type: "function", signature: "function mm(\n  value: number\n): Length" });
    expect(short).toEqual({ label: "mm", type: "function", detail: "function mm( value: number ): Length" });
    const long = completionOf({ text: "x", type: "variable", signature: `const x: ${"y".repeat(100)}` });
    expect(long.detail).toHaveLength(70);
    expect(long.detail.endsWith("…")).toBe(true);
  });

  it("says its kind where no signature is known", () => {
    expect(completionOf({ text: "for", type: "keyword" })).toEqual({
      label: "for",
      type: "keyword",
      detail: "keyword",
    });
    expect(completionOf({ text: "x" })).toEqual({ label: "x", type: "variable", detail: "" });
  });
});

it("finds where the word at the cursor begins, in any script", () => {
  expect(wordBefore("form.flat", 9)).toBe(5);
  expect(wordBefore("flat", 2)).toBe(0);
  expect(wordBefore("a + ", 4)).toBe(4);
  expect(wordBefore("const größe", 11)).toBe(6);
});
