import type { Diagnostic } from "tslab/dist/converter.js";
import { type CellError, withSignsVisible } from "./cell-errors.js";
import { typingWords } from "./compile-hints.js";
import { plainNames, tradeWords } from "./compile-words.js";

/** One complaint: the compiler hands an explanation on as a complaint of its own at the same place. */
interface Complaint {
  readonly line: number;
  readonly column: number;
  readonly messages: readonly string[];
}

/** The same and how it is put. */
interface Worded extends Complaint {
  readonly words: string | undefined;
}

/**
 * Why a cell does not compile: place, sentence in trade words, the line with a mark, the compiler's own words below.
 *
 * @param offered the names that the package offers for import
 */
export function compileError(
  source: string,
  diagnostics: readonly Diagnostic[],
  offered: readonly string[] = [],
): CellError {
  const complaints = grouped(diagnostics).map((complaint) => ({ ...complaint, words: words(complaint, offered) }));
  const first = complaints[0];
  const evalue = complaints.slice(0, 1).map(sentence).join("");
  return withSignsVisible({
    ename: "CompileError",
    evalue,
    traceback: complaints
      .slice(0, 5)
      .flatMap((complaint) => described(source, complaint))
      .concat(more(complaints.length)),
    ...(first && { place: { line: first.line, column: first.column } }),
  });
}

function grouped(diagnostics: readonly Diagnostic[]): Complaint[] {
  const found: { line: number; column: number; messages: string[]; key: string }[] = [];
  for (const { start, end, messageText } of diagnostics) {
    const key = `${start.offset}-${end.offset}`;
    const last = found.at(-1);
    if (last?.key === key) last.messages.push(messageText);
    else found.push({ key, line: start.line + 1, column: start.character + 1, messages: [messageText] });
  }
  return found;
}

/** in the words of the shop; nothing where the compiler's own are as good */
function words({ messages }: Complaint, offered: readonly string[]): string | undefined {
  return tradeWords(messages) ?? typingWords(messages, offered);
}

function sentence(complaint: Worded): string {
  const text = complaint.words ?? plainNames(complaint.messages[0] ?? "");
  return `line ${complaint.line}, column ${complaint.column}: ${text}`;
}

function described(source: string, complaint: Worded): string[] {
  const row = source.split("\n")[complaint.line - 1] ?? "";
  const mark = `${" ".repeat(Math.max(complaint.column - 1, 0))}^`;
  const own = complaint.messages.map(plainNames).join(" ");
  const whole = complaint.words === undefined && complaint.messages.length === 1;
  return [`CompileError: ${sentence(complaint)}`, `  ${row}`, `  ${mark}`, ...(whole ? [] : [`  compiler: ${own}`])];
}

function more(count: number): string[] {
  return count > 5 ? [`and ${count - 5} more in this cell`] : [];
}
