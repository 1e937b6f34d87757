import ts from "@tslab/typescript-for-tslab";
import type { Executor } from "tslab/dist/executor.js";
import { nameHelp } from "./hover.js";

/** A name that may stand at the cursor, with what kind of thing it is. */
export interface Completion {
  readonly text: string;
  readonly type: string;
  /** signature and first line of the documentation, for a list short enough to look them up */
  readonly signature?: string;
  readonly documentation?: string;
}

/** names looked up in one answer: a look-up takes a few milliseconds, and typing waits for it */
const mostLookedUp = 60;

/** The names that may stand at a place of a cell; places count 16-bit units. */
export function completions(executor: Executor, code: string, at: number) {
  const { start, end, candidates, original } = executor.complete(code, at);
  const kinds = new Map(original?.entries.map(({ name, kind }) => [name, kind]));
  const help = candidates.length > mostLookedUp ? new Map<string, Help>() : looked(executor, code, start, candidates);
  const found = candidates.map((text): Completion => {
    const known = help.get(text);
    return { text, type: typeOf(kinds.get(text), known?.signature ?? ""), ...known };
  });
  return { start, end, found };
}

/** the compiler's kinds of a name in the words front ends have pictures for */
const typeNames: { readonly [kind: string]: string } = {
  method: "method",
  "local function": "function",
  function: "function",
  property: "property",
  getter: "property",
  setter: "property",
  class: "class",
  "local class": "class",
  constructor: "class",
  interface: "interface",
  type: "interface",
  enum: "enum",
  "enum member": "enum",
  module: "module",
  "external module name": "module",
  keyword: "keyword",
  "primitive type": "keyword",
  string: "value",
};

/** a name that a package or a namespace hands on is known by its signature alone */
function typeOf(kind: string | undefined, signature: string): string {
  const declared =
    kind === "alias" ? /^(?:abstract )?(class|function|interface|enum|type)\b/.exec(signature)?.[1] : kind;
  return typeNames[declared ?? ""] ?? "variable";
}

interface Help {
  readonly signature: string;
  readonly documentation?: string;
}

/** All candidates are written below the cell, each as a statement, so that the compiler reads one text for all. */
function looked(executor: Executor, code: string, start: number, candidates: readonly string[]): Map<string, Help> {
  const receiver = receiverAt(code, start);
  let text = `${code.slice(0, start)}\n;`;
  const places = candidates.map((name) => {
    text += receiver === undefined ? name : `(${receiver}).${name}`;
    const place = text.length - 1;
    text += ";\n";
    return place;
  });
  const help = new Map<string, Help>();
  candidates.forEach((name, k) => {
    const info = /^[\p{L}_$]/u.test(name) ? executor.inspect(text, places[k]!) : undefined;
    if (!info) return;
    const { signature, text: words } = nameHelp(info);
    const documentation = words.split("\n")[0];
    help.set(name, { signature, ...(documentation && { documentation }) });
  });
  return help;
}

/** what stands before the dot whose right side begins at a place */
function receiverAt(code: string, start: number): string | undefined {
  const file = ts.createSourceFile("cell.ts", code, ts.ScriptTarget.ES2022, true);
  let found: string | undefined;
  const visit = (node: ts.Node): void => {
    if (ts.isPropertyAccessExpression(node) && node.name.getStart() === start) found = node.expression.getText();
    ts.forEachChild(node, visit);
  };
  visit(file);
  return found;
}
