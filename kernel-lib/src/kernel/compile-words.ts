import { type Kind, units } from "../quantity/kinds.js";
import { withArticle } from "../words.js";

/**
 * The compiler's words about quantities in the words of the shop.
 *
 * @param messages one complaint of the compiler, its explanations after it
 * @returns the reworded sentence, or nothing when the complaint is not about quantities
 */
export function tradeWords(messages: readonly string[]): string | undefined {
  const [message = ""] = messages.map(plainNames);
  return argument(message) ?? operator(message) ?? arithmetic(message);
}

/** Without the file a type was declared in: `import("…").Length` is `Length`, `typeof import("…")` names the package. */
export function plainNames(message: string): string {
  return (
    message
      .replace(/import\("[^"]*"\)\./g, "")
      // a folder's own name in the joined declarations
      .replace(/\bindex_d(?:\$\d+)?\./g, "")
      .replace(/\btypeof index_d(?:\$\d+)?/g, "typeof dialbook")
      .replace(/import\(("[^"]*")\)/g, "$1")
      .replace(/"((?:\/|[A-Za-z]:[\\/])[^"]*)"/g, (_, path: string) => `"${packageOf(path)}"`)
  );
}

function packageOf(path: string): string {
  const inside = /.*node_modules\/((?:@[^/]+\/)?[^/]+)/.exec(path)?.[1];
  return inside ?? (/\/dist\/index$/.test(path) ? "dialbook" : path.replace(/.*\//, ""));
}

function argument(message: string): string | undefined {
  const found = /^(?:Argument of type|Type) '(.*)' is not assignable to (?:parameter of )?type '(.*)'\.$/.exec(message);
  if (!found) return undefined;
  const [, given = "", needed = ""] = found;
  return wrongUnit(given, needed) ?? wrongKind(given, needed);
}

function wrongUnit(given: string, needed: string): string | undefined {
  const names = needed.split(" | ").map((name) => /^"(.*)"$/.exec(name)?.[1]);
  const kind = Object.entries(units).find(([, row]) => {
    const known = Object.keys(row);
    return known.length === names.length && names.every((name) => name !== undefined && known.includes(name));
  });
  if (!kind || !/^"|^string$/.test(given)) return undefined;
  const unit = given === "string" ? "a text that may be anything" : given;
  return `${unit} is not a unit of ${article(kind[0])}; use one of ${Object.keys(kind[1]).join(", ")}`;
}

function wrongKind(given: string, needed: string): string | undefined {
  const kinds = kindsOf(needed);
  if (kinds.length === 0) return undefined;
  const kind = kindsOf(given);
  if (kind.length === 1)
    return `${withUnit(kind[0]!)} was given where ${oneOf(kinds, withUnit)} is needed${differenceHint(kind[0]!, kinds)}`;
  if (/^(number|-?[\d.]+)$/.test(given))
    return `a bare number was given where ${oneOf(kinds)} is needed; give it a unit${example(kinds)}`;
  return undefined;
}

function operator(message: string): string | undefined {
  const found = /^Operator '(.*)' cannot be applied to types '(.*)' and '(.*)'\.$/.exec(message);
  if (!found) return undefined;
  const [, sign = "", left = "", right = ""] = found;
  const pair = [left, right].map((type) => kindsOf(type)[0]);
  if (pair[0] === undefined && pair[1] === undefined) return undefined;
  const [a, b] = [left, right].map((type, index) => (pair[index] === undefined ? bare(type) : article(pair[index]!)));
  if (/^[<>]=?$|^[!=]==?$/.test(sign))
    return `${a} can't be compared with ${b} by ${sign}; compare two of one kind with .isLess or .equals`;
  return `${sign} does not work on ${a} and ${b}; write .plus, .minus, .times or .over, which keep the unit`;
}

function arithmetic(message: string): string | undefined {
  const found = /^The (left|right)-hand side of an arithmetic operation must be /.exec(message);
  if (!found) return undefined;
  return `what stands ${found[1]} of the sign is not a bare number; for a quantity write .minus, .times or .over, which keep the unit`;
}

/** Kinds named in a type: `Length`, `Quantity<"length">`, `number | Quantity<"number" | "length">`; none when anything
 * else is in it, so that a complaint about something else is never reworded. */
function kindsOf(type: string): string[] {
  const inner = /^(?:number \| )?Quantity<(.*)>$/.exec(type)?.[1];
  const names = inner === undefined ? [words(type)] : inner.split(" | ").map((name) => name.replace(/"/g, ""));
  return names.every((name) => Object.hasOwn(units, name)) ? names : [];
}

/** Name of a type alias as words; a bare `number` is not the kind "number". */
function words(alias: string): string {
  if (alias === "PlainNumber") return "number";
  if (!/^[A-Z]\w*$/.test(alias)) return "";
  return alias.replace(/(?<=[a-z])(?=[A-Z])/g, " ").toLowerCase();
}

function bare(type: string): string {
  return /^(number|-?[\d.]+)$/.test(type) ? "a bare number" : `'${type}'`;
}

function article(kind: string): string {
  if (kind === "number") return "a plain number";
  return withArticle(kind);
}

/** "a length (mm)": the kind with the unit it prints in */
function withUnit(kind: string): string {
  const symbol = Object.values(units[kind as Kind])[0]?.symbol ?? "";
  return kind === "number" ? article(kind) : `${article(kind)} (${symbol})`;
}

function oneOf(kinds: readonly string[], say = article): string {
  const named = kinds.map((kind) => say(kind));
  return named.length === 1 ? named[0]! : `${named.slice(0, -1).join(", ")} or ${named.at(-1)}`;
}

function example(kinds: readonly string[]): string {
  const samples: { readonly [kind: string]: string } = {
    length: "mm(0.02)",
    temperature: "degC(20)",
    "temperature difference": "kelvin(2)",
    "thermal drift": "umPerKelvin(2.5)",
    force: "newton(10)",
  };
  const sample = kinds.length === 1 ? samples[kinds[0]!] : undefined;
  return sample === undefined ? "" : `, as in ${sample}`;
}

function differenceHint(given: string, needed: readonly string[]): string {
  if (given !== "temperature" || !needed.includes("temperature difference")) return "";
  return "; a difference is written kelvin(2) or a.minus(b)";
}
