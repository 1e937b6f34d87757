import ts from "@tslab/typescript-for-tslab";
import type { Diagnostic, DiagnosticPos } from "tslab/dist/converter.js";

/** Text put into a cell before it is compiled, in the order of the text; never a line break. */
interface Insertion {
  /** in the reader's own text */
  readonly offset: number;
  readonly text: string;
}

/** A cell as it is compiled, and the way back to the places of the text as it was typed. */
export interface Spelled {
  readonly source: string;
  readonly typed: (diagnostic: Diagnostic) => Diagnostic;
}

/**
 * Spells out `{ height }` as `{ height: height }`. The cells' compiler reaches a name of an earlier cell everywhere but
 * there, so that a short form that type-checks would stop with "height is not defined".
 */
export function spellOut(source: string): Spelled {
  const file = ts.createSourceFile("cell.ts", source, ts.ScriptTarget.ES2022, false);
  const insertions: Insertion[] = [];
  const visit = (node: ts.Node): void => {
    if (ts.isShorthandPropertyAssignment(node)) {
      insertions.push({ offset: node.name.getStart(file), text: `${node.name.text}: ` });
    }
    ts.forEachChild(node, visit);
  };
  visit(file);
  const spelled = insertions.reduceRight(
    (text, { offset, text: put }) => text.slice(0, offset) + put + text.slice(offset),
    source,
  );
  const typed = (at: DiagnosticPos): DiagnosticPos => {
    const offset = typedOffset(insertions, at.offset);
    const lineStart = source.lastIndexOf("\n", offset - 1) + 1;
    return { ...at, offset, character: offset - lineStart };
  };
  return { source: spelled, typed: (found) => ({ ...found, start: typed(found.start), end: typed(found.end) }) };
}

/** the offset in the typed text of an offset in the spelled one; what was put in counts as the name behind it */
function typedOffset(insertions: readonly Insertion[], spelledOffset: number): number {
  let offset = spelledOffset;
  for (const put of insertions) {
    if (offset <= put.offset) break;
    offset = Math.max(put.offset, offset - put.text.length);
  }
  return offset;
}
