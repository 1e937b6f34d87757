import type { Converter } from "tslab/dist/converter.js";
import { describe, expect, it } from "vitest";
import { neededDeclarations } from "../../kernel-lib/src/kernel/needed-declarations.js";

const unused = (): never => {
  throw new Error("is not part of this test");
};

/** A converter that keeps what it is given; every cell declares what `declares` says, and drops nothing. */
function recording(declares: (source: string) => string = () => "", fails: (text: string) => boolean = () => false) {
  const given: string[] = [];
  const position = { offset: 0, line: 0, character: 0 };
  const complaint = { start: position, end: position, messageText: "no", category: 1, code: 2304 };
  const inner: Converter = {
    convert: (text, source) => {
      given.push(text);
      if (fails(text)) return { diagnostics: [complaint] };
      return { diagnostics: [], output: source, declOutput: declares(source) + text };
    },
    inspect: (text) => given.push(text) as never,
    complete: (text) => given.push(text) as never,
    addModule: unused,
    close: unused,
  };
  return { given, converter: neededDeclarations(inner) };
}

const earlier = [
  'import { um } from "dialbook";',
  "declare let a: number;",
  "declare let b: Box;",
  "interface Box { side: Side }",
  "type Side = typeof c;",
  "declare let c: string;",
  "declare function f(x: number): void;",
  "declare function f(x: string): void;",
  "declare let p: number, q: string;",
].map((line) => `${line}\n`);
const text = earlier.join("");
const lines = (some: string): string[] => some.split("\n").filter((line) => line !== "");

describe("a cell is compiled against", () => {
  it("what it mentions, what that mentions in turn, and all imports, in their order", () => {
    const { given, converter } = recording();
    converter.convert(text, "b.side + 1");
    converter.convert(text, "a");
    converter.convert(text, "f(2)");
    converter.convert(text, "const q = 3");
    converter.convert(text, "nothing");
    expect(given.map(lines)).toEqual(
      [[0, 2, 3, 4, 5], [0, 1], [0, 6, 7], [0, 8], [0]].map((some) => some.map((i) => earlier[i]!.trim())),
    );
  });

  it("what it redeclares: what becomes of that is tslab's to say, and the rest is kept beside it", () => {
    const { converter } = recording((source) => `declare let ${source}: 1;\n`);
    const { declOutput } = converter.convert(text, "d");
    expect(lines(declOutput!).toSorted()).toEqual([...lines(text), "declare let d: 1;"].toSorted());
  });

  it("everything where it does not compile, so that what it is told knows every name", () => {
    const { given, converter } = recording(undefined, (some) => !some.includes("declare let a"));
    expect(converter.convert(text, "b").diagnostics).toEqual([]);
    expect(given.map((some) => lines(some).length)).toEqual([5, 9]);
    expect(given[1]).toBe(text);
  });

  it("the declarations before a cell that stopped while it ran", () => {
    const { given, converter } = recording((source) => `declare let ${source}: 1;\n`);
    const { declOutput: after } = converter.convert(text, "d");
    // d ran, e stopped: the next cell comes with the text before e
    converter.convert(after!, "e");
    converter.convert(after!, "d");
    expect(lines(given[2]!)).toEqual([earlier[0]!.trim(), "declare let d: 1;"].toReversed());
  });

  it("statements that tslab does not carry over: they are handed on once and then gone", () => {
    const augmented = `${text}declare global {\n    interface Array<T> {\n        zz: number;\n    }\n}\n`;
    const { given, converter } = recording();
    converter.convert(augmented, "a");
    expect(given[0]).toContain("declare global");
  });
});

it("names are completed among all that was declared, members behind a dot without", () => {
  const { given, converter } = recording();
  converter.complete(text, "b.si", 4);
  converter.complete(text, "b?.", 3);
  converter.complete(text, "[...b", 5);
  converter.complete(text, "b", 1);
  converter.inspect(text, "a", 0);
  expect(given.map((some) => lines(some).length)).toEqual([5, 5, 9, 9, 2]);
});

it("the cost of a cell does not grow with the cells before it: one name needs one line of five hundred", () => {
  const { given, converter } = recording((source) => `declare let ${source}: 1;\n`);
  let known = "";
  for (let i = 0; i < 500; i++) known = converter.convert(known, `a${i}`).declOutput!;
  expect(lines(known)).toHaveLength(500);
  converter.convert(known, "a7");
  expect(given.at(-1)).toBe("declare let a7: 1;\n");
  expect(Math.max(...given.map(({ length }) => length))).toBeLessThan(30);
});
