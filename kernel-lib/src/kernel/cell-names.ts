import ts from "@tslab/typescript-for-tslab";

/** What a cell does with names that outlive it. */
export interface CellNames {
  /** each name set at the cell's top level, with the statement that sets it */
  readonly set: ReadonlyMap<string, string>;
  /** names taken from earlier cells */
  readonly read: readonly string[];
}

/** Parses a cell; a cell that does not parse gives what can be made of it. */
export function parsedCell(source: string): ts.SourceFile {
  return ts.createSourceFile("cell.ts", source, ts.ScriptTarget.ES2022, true);
}

/** The names a cell sets and those it takes from earlier cells; one it also declares somewhere inside is its own. */
export function cellNames(file: ts.SourceFile): CellNames {
  const set = new Map<string, string>();
  for (const statement of file.statements) {
    for (const name of namesSet(statement)) set.set(name, statement.getText());
  }
  const own = new Set<string>();
  const used = new Set<string>();
  const visit = (node: ts.Node): void => {
    if (ts.isTypeNode(node) && !ts.isExpressionWithTypeArguments(node)) return;
    if (ts.isIdentifier(node) && !isKey(node)) (isDeclared(node) ? own : used).add(node.text);
    ts.forEachChild(node, visit);
  };
  visit(file);
  return { set, read: [...used].filter((name) => !own.has(name)) };
}

/** Names that a statement sets for later cells; types leave nothing to run behind. */
export function namesSet(statement: ts.Statement): readonly string[] {
  if (ts.isVariableStatement(statement)) {
    return statement.declarationList.declarations.flatMap(({ name }) => boundNames(name));
  }
  if (ts.isFunctionDeclaration(statement) || ts.isClassDeclaration(statement) || ts.isEnumDeclaration(statement)) {
    return statement.name ? [statement.name.text] : [];
  }
  if (ts.isImportDeclaration(statement)) return importedNames(statement.importClause);
  if (!ts.isExpressionStatement(statement) || !ts.isBinaryExpression(statement.expression)) return [];
  const { left, operatorToken } = statement.expression;
  return ts.isIdentifier(left) && isAssignment(operatorToken.kind) ? [left.text] : [];
}

function boundNames(name: ts.BindingName): readonly string[] {
  if (ts.isIdentifier(name)) return [name.text];
  return name.elements.flatMap((element) => (ts.isBindingElement(element) ? boundNames(element.name) : []));
}

function importedNames(clause: ts.ImportClause | undefined): readonly string[] {
  const bindings = clause?.namedBindings;
  const named = !bindings
    ? []
    : ts.isNamespaceImport(bindings)
      ? [bindings.name]
      : bindings.elements.map((e) => e.name);
  return [...(clause?.name ? [clause.name] : []), ...named].map(({ text }) => text);
}

/** a member after a dot or the name of a member: no name of a value */
function isKey(node: ts.Identifier): boolean {
  const { parent } = node;
  if (ts.isPropertyAccessExpression(parent) || ts.isPropertyAssignment(parent)) return parent.name === node;
  if (ts.isBindingElement(parent) || ts.isImportSpecifier(parent)) return parent.propertyName === node;
  return ts.isClassElement(parent) || ts.isTypeElement(parent) || ts.isEnumMember(parent);
}

function isDeclared(node: ts.Identifier): boolean {
  const { parent } = node;
  return makesName.some((is) => is(parent)) && Reflect.get(parent, "name") === node;
}

const makesName: readonly ((node: ts.Node) => boolean)[] = [
  ts.isVariableDeclaration,
  ts.isParameter,
  ts.isBindingElement,
  ts.isFunctionDeclaration,
  ts.isFunctionExpression,
  ts.isClassDeclaration,
  ts.isEnumDeclaration,
  ts.isImportClause,
  ts.isImportSpecifier,
  ts.isNamespaceImport,
];

function isAssignment(kind: ts.SyntaxKind): boolean {
  return kind >= ts.SyntaxKind.FirstAssignment && kind <= ts.SyntaxKind.LastAssignment;
}
