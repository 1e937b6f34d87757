import ts from "@tslab/typescript-for-tslab";
import { namesSet } from "./cell-names.js";

/** A loop that uses names of the cell's top level, each of which is looked up anew every time round. */
export interface SlowLoop {
  /** line of the cell, from 1 */
  readonly line: number;
  /** one of the names it uses */
  readonly name: string;
  /** times round, where the cell says so in figures; loops inside it multiply */
  readonly rounds?: number;
}

/** The loops at a cell's top level that use names kept for later cells, or kept by earlier ones. */
export function slowLoops(file: ts.SourceFile, earlier: ReadonlySet<string>): readonly SlowLoop[] {
  const kept = new Set([...earlier, ...file.statements.flatMap(namesOfValues)]);
  const numbers = knownNumbers(file);
  return file.statements.flatMap(loopsOf).flatMap((loop) => {
    const name = waits(loop) ? undefined : nameUsed(loop, kept);
    if (name === undefined) return [];
    const line = file.getLineAndCharacterOfPosition(loop.getStart()).line + 1;
    const rounds = roundsOf(loop, numbers);
    return [{ line, name, ...(rounds !== undefined && { rounds }) }];
  });
}

/** what is imported is as quick in a loop as anywhere: it is a name of the module */
function namesOfValues(statement: ts.Statement): readonly string[] {
  return ts.isVariableStatement(statement) ? namesSet(statement) : [];
}

function loopsOf(statement: ts.Node): readonly ts.IterationStatement[] {
  if (ts.isIterationStatement(statement, false)) return [statement];
  if (ts.isBlock(statement)) return statement.statements.flatMap(loopsOf);
  if (ts.isIfStatement(statement))
    return [statement.thenStatement, statement.elseStatement].flatMap((s) => (s ? loopsOf(s) : []));
  return ts.isTryStatement(statement) ? loopsOf(statement.tryBlock) : [];
}

function waits(node: ts.Node): boolean {
  return ts.isAwaitExpression(node) || (ts.forEachChild(node, (child) => waits(child) || undefined) ?? false);
}

function nameUsed(node: ts.Node, kept: ReadonlySet<string>): string | undefined {
  if (ts.isIdentifier(node) && kept.has(node.text)) return node.text;
  return ts.forEachChild(node, (child) => nameUsed(child, kept));
}

function roundsOf(loop: ts.Node, numbers: ReadonlyMap<string, number>): number | undefined {
  const own = ts.isForStatement(loop) ? bound(loop.condition, numbers) : undefined;
  let inner: number | undefined;
  ts.forEachChild(loop, function visit(node): void {
    if (ts.isFunctionLike(node)) return;
    if (ts.isIterationStatement(node, false)) inner = Math.max(inner ?? 0, roundsOf(node, numbers) ?? 0) || inner;
    else ts.forEachChild(node, visit);
  });
  return own === undefined ? inner : own * (inner ?? 1);
}

/** the greater figure of a condition such as `i < 1e6` */
function bound(condition: ts.Expression | undefined, numbers: ReadonlyMap<string, number>): number | undefined {
  if (condition === undefined || !ts.isBinaryExpression(condition)) return undefined;
  return figure(condition.right, numbers) ?? figure(condition.left, numbers);
}

function figure(node: ts.Expression | undefined, numbers: ReadonlyMap<string, number>): number | undefined {
  if (node === undefined) return undefined;
  if (ts.isNumericLiteral(node)) return Number(node.text);
  return ts.isIdentifier(node) ? numbers.get(node.text) : undefined;
}

function knownNumbers(file: ts.SourceFile): ReadonlyMap<string, number> {
  const declared = file.statements.flatMap((s) => (ts.isVariableStatement(s) ? s.declarationList.declarations : []));
  return new Map(
    declared.flatMap(({ name, initializer }): [string, number][] => {
      const value = figure(initializer, new Map());
      return ts.isIdentifier(name) && value !== undefined ? [[name.text, value]] : [];
    }),
  );
}
