import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import ts from "typescript";

/** A sentence as the source writes it: its words, with a hole for each value that is put in. */
type Words = readonly (string | typeof hole)[];
const hole: unique symbol = Symbol("hole");

/** A sentence of an error, and where the source writes it. */
export interface Wording {
  readonly file: string;
  readonly words: Words;
}

/** what an error is made by: its classes, and the functions that refuse in one sentence */
const classes = /^(?:MeasurementError|Refused|UsageError|WireError)$/;
const refusing = /^(?:refuse\w*|missing|unclear|badCell|tooFew|complain|warn)$/;
/** fewer letters are a frame that others fill: "figure of …: …" */
const fewest = 12;

/** File and sentence, values as "…". */
export function said({ file, words }: Wording): string {
  return `${file}: ${
    words
      .map((part) => (part === hole ? "…" : part))
      .join("")
      .split("\n")[0]
  }`;
}

/** Every sentence that the source refuses with or complains in. */
export function wordings(folder: string): readonly Wording[] {
  return sourcesIn(folder).flatMap((file) => {
    const source = parsed(file);
    const found: Wording[] = [];
    visit(source, (node) => {
      if (!isRefusal(node)) return;
      for (const argument of node.arguments ?? [])
        for (const words of alternatives(argument))
          if (isSentence(words)) found.push({ file: relative(folder, file).replaceAll("\\", "/"), words });
    });
    return found;
  });
}

/** Every text of the tests, holes where a value is put in. */
export function textsOf(folder: string): readonly string[] {
  return sourcesIn(folder).flatMap((file) => {
    const found: string[] = [];
    const source = parsed(file);
    const named = namedTexts(source);
    visit(source, (node) => {
      if (ts.isRegularExpressionLiteral(node)) found.push(textOfPattern(node.text));
      else if (ts.isStringLiteralLike(node) || ts.isTemplateExpression(node) || isSum(node))
        found.push(
          ...alternatives(node, named).map((words) => words.map((part) => (part === hole ? gap : part)).join("")),
        );
    });
    return found;
  });
}

/** texts that a file gives a name to */
type Named = ReadonlyMap<string, string>;

function namedTexts(source: ts.SourceFile): Named {
  const named = new Map<string, string>();
  visit(source, (node) => {
    if (!ts.isVariableDeclaration(node) || !ts.isIdentifier(node.name)) return;
    if (node.initializer && ts.isStringLiteralLike(node.initializer)) named.set(node.name.text, node.initializer.text);
  });
  return named;
}

/** stands for a value in a text of the tests */
const gap = "\u{fffc}";

/** True where a text holds the whole sentence, from its first word to its last. */
export function holds(text: string, { words }: Wording): boolean {
  const longest = words.reduce<string>((most, part) => (part !== hole && part.length > most.length ? part : most), "");
  if (!text.includes(longest)) return false;
  const pattern = words.map((part) => (part === hole ? "[\\s\\S]*?" : escaped(part))).join("");
  return new RegExp(pattern).test(text);
}

function isRefusal(node: ts.Node): node is ts.NewExpression | ts.CallExpression {
  if (ts.isNewExpression(node)) return ts.isIdentifier(node.expression) && classes.test(node.expression.text);
  return ts.isCallExpression(node) && ts.isIdentifier(node.expression) && refusing.test(node.expression.text);
}

function isSentence(words: Words): boolean {
  const letters = words.filter((part) => part !== hole).join("");
  return letters.replace(/[^a-z]/gi, "").length >= fewest && letters.includes(" ");
}

/** What an expression may say, one for each way its choices may fall; a choice made twice falls the same way twice. */
function alternatives(node: ts.Node, named: Named = new Map()): readonly Words[] {
  const choices = new Set<string>();
  visit(node, (inner) => {
    if (ts.isConditionalExpression(inner)) choices.add(inner.condition.getText());
  });
  const ways = [...choices].reduce<readonly ReadonlySet<string>[]>(
    (before, choice) => before.flatMap((taken) => [taken, new Set([...taken, choice])]),
    [new Set<string>()],
  );
  const said = ways.map((taken) => wordsOf(node, taken, named));
  return [...new Map(said.map((words) => [words.map(String).join("\0"), words])).values()];
}

/** The words of an expression where the choices named are taken and no others; a value that is not known here is a hole. */
function wordsOf(node: ts.Node, taken: ReadonlySet<string>, named: Named): Words {
  if (ts.isParenthesizedExpression(node)) return wordsOf(node.expression, taken, named);
  if (ts.isStringLiteralLike(node)) return [node.text];
  if (ts.isConditionalExpression(node)) {
    return wordsOf(taken.has(node.condition.getText()) ? node.whenTrue : node.whenFalse, taken, named);
  }
  if (isSum(node)) return [...wordsOf(node.left, taken, named), ...wordsOf(node.right, taken, named)];
  if (!ts.isTemplateExpression(node)) return [hole];
  const spans = node.templateSpans.flatMap(({ expression, literal }) => [
    ...inTemplate(expression, taken, named),
    literal.text,
  ]);
  return [node.head.text, ...spans];
}

/** inside a sentence a text that is chosen or put together is read, any other value is a hole */
function inTemplate(node: ts.Expression, taken: ReadonlySet<string>, named: Named): Words {
  const text = ts.isIdentifier(node) ? named.get(node.text) : undefined;
  if (text !== undefined) return [text];
  return ts.isConditionalExpression(node) || ts.isTemplateExpression(node) ? wordsOf(node, taken, named) : [hole];
}

function isSum(node: ts.Node): node is ts.BinaryExpression {
  return ts.isBinaryExpression(node) && node.operatorToken.kind === ts.SyntaxKind.PlusToken;
}

/** A pattern of a test as the text it stands for. */
function textOfPattern(pattern: string): string {
  return pattern
    .replace(/^\/|\/[a-z]*$/g, "")
    .replace(/\\[dwsS][+*]?|\[[^\]]*\][+*]?|\.[+*]\??/g, gap)
    .replace(/\\(.)/g, "$1");
}

function sourcesIn(folder: string): readonly string[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((file) => file.endsWith(".ts") && !file.endsWith("bytes.ts"))
    .map((file) => join(folder, file));
}

function parsed(file: string): ts.SourceFile {
  return ts.createSourceFile(file, readFileSync(file, "utf8"), ts.ScriptTarget.ES2022, true);
}

function visit(node: ts.Node, see: (node: ts.Node) => void): void {
  see(node);
  ts.forEachChild(node, (child) => visit(child, see));
}

function escaped(text: string): string {
  return text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
}
