import { resolve } from "node:path";
import ts from "typescript";
import { describe, expect, it } from "vitest";
import * as dialbook from "../../kernel-lib/src/index.js";

const entry = resolve(import.meta.dirname, "../../kernel-lib/src/index.ts");

interface Documented {
  readonly name: string;
  readonly isCallable: boolean;
  readonly doc: string;
  readonly examples: readonly string[];
}

/** every value the package exports, those in its namespaces included */
function publicValues(): Documented[] {
  const config = ts.readConfigFile(resolve(entry, "../../tsconfig.json"), ts.sys.readFile).config as object;
  const { options } = ts.parseJsonConfigFileContent(config, ts.sys, resolve(entry, "../.."));
  const program = ts.createProgram([entry], options);
  const checker = program.getTypeChecker();
  const source = program.getSourceFile(entry);
  const module = source && checker.getSymbolAtLocation(source);
  if (!module) throw new Error("the entry file exports nothing");
  return checker.getExportsOfModule(module).flatMap((symbol) => describeSymbol(checker, symbol, ""));
}

function describeSymbol(checker: ts.TypeChecker, found: ts.Symbol, prefix: string): Documented[] {
  const symbol = found.flags & ts.SymbolFlags.Alias ? checker.getAliasedSymbol(found) : found;
  const name = prefix + found.getName();
  if (symbol.flags & ts.SymbolFlags.ValueModule) {
    return checker.getExportsOfModule(symbol).flatMap((member) => describeSymbol(checker, member, `${name}.`));
  }
  if (!(symbol.flags & ts.SymbolFlags.Value)) return [];
  const members = symbol.flags & ts.SymbolFlags.Class ? [...(symbol.members?.values() ?? [])] : [];
  const own = examplesOf(checker, symbol);
  const inherited = members.flatMap((member) => examplesOf(checker, member));
  const declaration = symbol.valueDeclaration;
  const isCallable =
    declaration !== undefined && checker.getTypeOfSymbolAtLocation(symbol, declaration).getCallSignatures().length > 0;
  const doc = ts.displayPartsToString(symbol.getDocumentationComment(checker));
  return [{ name, isCallable, doc, examples: [...own, ...inherited] }];
}

function examplesOf(checker: ts.TypeChecker, symbol: ts.Symbol): string[] {
  return symbol
    .getJsDocTags(checker)
    .filter((tag) => tag.name === "example")
    .map((tag) => ts.displayPartsToString(tag.text).trim());
}

/** runs an example, whose last line is `expression // => value`; gives both values */
function run(example: string): { got: unknown; stated: unknown } {
  const [code = "", stated] = example.split("// =>");
  if (stated === undefined) throw new Error(`the example states no result: ${example}`);
  const lines = code.trim().split("\n");
  const at = lines.findLastIndex((line) => !/^[\s)\]},;]/.test(line));
  const head = lines.slice(0, at).join("\n");
  const last = lines.slice(at).join("\n").replace(/;\s*$/, "");
  const names = Object.keys(dialbook);
  const values = names.map((name) => (dialbook as Record<string, unknown>)[name]);
  return {
    got: new Function(...names, `"use strict";\n${head}\nreturn (${last}\n);`)(...values),
    stated: new Function(`return (${stated.trim()}\n);`)(),
  };
}

const all = publicValues();

describe("every public value", () => {
  it("is documented", () => {
    expect(all.filter((value) => value.doc === "").map((value) => value.name)).toEqual([]);
  });

  it("carries an example where it can be called", () => {
    expect(all.filter((v) => v.isCallable && v.examples.length === 0).map((v) => v.name)).toEqual([]);
  });
});

describe("every example gives what it states", () => {
  const cases = all.flatMap((value) => value.examples.map((example) => [value.name, example] as const));
  it.each(cases)("%s: %s", (_name, example) => {
    const { got, stated } = run(example);
    expect(got).toEqual(stated);
  });
});
