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

/** what an error is made by, and what tells a person at the terminal */
const classes = /^(?:MeasurementError|Refused|UsageError|WireError)$/;
const telling = "complain";
/** fewer letters, not counting who speaks, are a frame that others fill: "decision.options: …" */
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
  const sources = sourcesIn(folder).map(parsed);
  const frames = framesIn(sources);
  return sources.flatMap((source) => {
    const file = relative(folder, source.fileName).replaceAll("\\", "/");
    const found: Wording[] = [];
    visit(source, (node) => {
      for (const told of toldBy(node, source, frames))
        for (const words of alternatives(told)) if (isSentence(words)) found.push({ file, words });
    });
    return found;
  });
}

/** Functions that put a sentence which they are given into a frame of their own, by file and name (by name alone where others
 * may import them): which of their arguments that is. */
type Frames = Map<string, Set<number>>;

/** A function that is given "…: it is missing" and throws "x.csv: it is missing" is a frame; one that is given "0.2" and throws
 * "# fraction: 3 is not understood; write 0.2" has a sentence of its own. Frames within frames are found by looking again. */
function framesIn(sources: readonly ts.SourceFile[]): Frames {
  const frames: Frames = new Map();
  const functions = sources.flatMap(functionsIn);
  for (let before = -1; before !== frames.size; ) {
    before = frames.size;
    for (const { source, keys, parameters, calls } of functions) {
      for (const told of calls.flatMap((call) => toldBy(call, source, frames))) {
        const values = valuesIn(told).filter((value) => parameters.includes(value));
        if (values.length === 0 || alternatives(told).every(isSentence)) continue;
        for (const key of keys)
          frames.set(key, new Set([...(frames.get(key) ?? []), ...values.map((value) => parameters.indexOf(value))]));
      }
    }
  }
  return frames;
}

interface Made {
  readonly source: ts.SourceFile;
  /** under which it is called */
  readonly keys: readonly string[];
  readonly parameters: readonly string[];
  /** all that it calls or makes */
  readonly calls: readonly ts.Node[];
}

/** functions, methods, and functions that are given a name */
function functionsIn(source: ts.SourceFile): readonly Made[] {
  const found: Made[] = [];
  visit(source, (node) => {
    const made = ts.isVariableDeclaration(node) || ts.isPropertyDeclaration(node) ? node.initializer : node;
    const isMade = made && (ts.isFunctionDeclaration(made) || ts.isMethodDeclaration(made) || ts.isArrowFunction(made));
    if (!isMade || !made.body || !(node as ts.NamedDeclaration).name) return;
    const name = (node as ts.NamedDeclaration).name!.getText();
    const calls: ts.Node[] = [];
    visit(made.body, (inner) => {
      if (ts.isCallExpression(inner) || ts.isNewExpression(inner)) calls.push(inner);
    });
    const isExported = made.modifiers?.some(({ kind }) => kind === ts.SyntaxKind.ExportKeyword) ?? false;
    const keys = [`${source.fileName} ${name}`, ...(isExported ? [name] : [])];
    found.push({ source, keys, parameters: made.parameters.map((one) => one.name.getText()), calls });
  });
  return found;
}

/** What an expression tells: the arguments of an error, or those that a function puts into its frame. */
function toldBy(node: ts.Node, source: ts.SourceFile, frames: Frames): readonly ts.Expression[] {
  if (ts.isNewExpression(node))
    return ts.isIdentifier(node.expression) && classes.test(node.expression.text) ? (node.arguments ?? []) : [];
  if (!ts.isCallExpression(node)) return [];
  const called = ts.isPropertyAccessExpression(node.expression) ? node.expression.name : node.expression;
  if (!ts.isIdentifier(called)) return [];
  if (called.text === telling) return node.arguments;
  const isOwn = ts.isIdentifier(node.expression) || node.expression.getText() === `this.${called.text}`;
  const framed = isOwn ? (frames.get(`${source.fileName} ${called.text}`) ?? frames.get(called.text)) : undefined;
  return framed ? node.arguments.filter((_, i) => framed.has(i)) : [];
}

/** names of the values that an expression is, or that a text ends with: where it stands comes before what is wrong */
function valuesIn(node: ts.Expression): readonly string[] {
  if (ts.isIdentifier(node)) return [node.text];
  if (ts.isParenthesizedExpression(node)) return valuesIn(node.expression);
  if (ts.isConditionalExpression(node)) return [node.whenTrue, node.whenFalse].flatMap(valuesIn);
  const last = ts.isTemplateExpression(node) ? node.templateSpans.at(-1) : undefined;
  return last?.literal.text === "" ? valuesIn(last.expression) : [];
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

function isSentence(words: Words): boolean {
  const letters = words
    .filter((part) => part !== hole)
    .join("")
    .replace(/^[\w.]+(?: [\w.]+)?: /, "");
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
