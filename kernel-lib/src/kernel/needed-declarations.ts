import ts from "@tslab/typescript-for-tslab";
import type { Converter } from "tslab/dist/converter.js";
import { namesSet } from "./cell-names.js";

/**
 * A converter that gives the compiler, of all that earlier cells declared, what a cell can reach.
 *
 * tslab hands every declaration so far to the compiler with every cell, which reads and prints them all again: in a
 * notebook of 2,000 cells nine tenths of a cell's time. Here a cell gets the declarations whose names it mentions, those
 * that their types mention, and all imports (so that no package is read again); the others wait. A cell that does not
 * compile is compiled once more against all of them, so that what it is told knows every name.
 */
export function neededDeclarations(inner: Converter): Converter {
  let all = new Declarations("");
  /** the text is another than the last one where a cell stopped while it ran, or after a reset */
  const known = (text: string): Declarations => {
    if (text !== all.text) all = new Declarations(text);
    return all;
  };
  return {
    ...inner,
    convert: (text, source) => {
      const needed = known(text).needed(namesIn(source));
      const result = inner.convert(textOf(needed), source);
      if (result.diagnostics.length > 0) return needed.length < all.size ? inner.convert(text, source) : result;
      // those that the cell was not given stay as they are: it mentions none of their names
      all.replace(needed, result.declOutput ?? "");
      return { ...result, declOutput: all.text };
    },
    inspect: (text, source, position) => inner.inspect(textOf(known(text).needed(namesIn(source))), source, position),
    complete: (text, source, position) => {
      // behind a dot no name of an earlier cell is offered
      const names = /[^.\s]\s*\.\s*[\w$]*$/.test(source.slice(0, position)) ? namesIn(source) : undefined;
      return inner.complete(names ? textOf(known(text).needed(names)) : text, source, position);
    },
  };
}

/** A statement of a declaration file. */
interface Declared {
  /** counts up: the order of declaring */
  readonly place: number;
  readonly text: string;
  /** none where tslab does not carry it over to the next cell but one */
  readonly names: readonly string[];
  readonly mentions: readonly string[];
  /** goes with every cell */
  readonly always: boolean;
}

/** Everything declared so far, by name. */
class Declarations {
  private readonly byName = new Map<string, Set<Declared>>();
  private readonly list = new Set<Declared>();
  private readonly always = new Set<Declared>();
  private count = 0;

  constructor(public text: string) {
    this.add(text);
  }

  get size(): number {
    return this.list.size;
  }

  /** what some names stand for, and what that mentions in turn */
  needed(names: Iterable<string>): readonly Declared[] {
    const found = new Set(this.always);
    const waiting = [...names, ...[...this.always].flatMap(({ mentions }) => mentions)];
    for (let name = waiting.pop(); name !== undefined; name = waiting.pop()) {
      for (const one of this.byName.get(name) ?? []) {
        if (found.has(one)) continue;
        found.add(one);
        waiting.push(...one.mentions);
      }
    }
    return [...found].sort((a, b) => a.place - b.place);
  }

  replace(gone: readonly Declared[], text: string): void {
    for (const one of gone) {
      this.list.delete(one);
      this.always.delete(one);
      for (const name of one.names) this.byName.get(name)?.delete(one);
    }
    this.add(text);
    this.text = textOf(this.list);
  }

  private add(text: string): void {
    const { statements } = ts.createSourceFile("declared.d.ts", text, ts.ScriptTarget.ES2022, false);
    for (const statement of statements) {
      const names = carriedNames(statement);
      const one: Declared = {
        place: this.count++,
        text: `${text.slice(statement.pos, statement.end).trim()}\n`,
        names,
        mentions: [...identifiers(statement)],
        always: names.length === 0 || ts.isImportDeclaration(statement),
      };
      this.list.add(one);
      if (one.always) this.always.add(one);
      for (const name of names) {
        const same = this.byName.get(name);
        if (same) same.add(one);
        else this.byName.set(name, new Set([one]));
      }
    }
  }
}

function textOf(list: Iterable<Declared>): string {
  return Array.from(list, ({ text }) => text).join("");
}

/** names of the sorts of statement that tslab carries over */
function carriedNames(statement: ts.Statement): readonly string[] {
  const isType = ts.isInterfaceDeclaration(statement) || ts.isTypeAliasDeclaration(statement);
  return isType ? [statement.name.text] : namesSet(statement);
}

function namesIn(source: string): ReadonlySet<string> {
  return identifiers(ts.createSourceFile("cell.ts", source, ts.ScriptTarget.ES2022, false));
}

/** every name a text mentions, members among them */
function identifiers(node: ts.Node, found = new Set<string>()): ReadonlySet<string> {
  if (ts.isIdentifier(node)) found.add(node.text);
  ts.forEachChild(node, (child) => void identifiers(child, found));
  return found;
}
