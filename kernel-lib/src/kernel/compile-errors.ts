import type { Diagnostic } from "tslab/dist/converter.js";
import { type CellError, withSignsVisible } from "./cell-errors.js";
import { plainNames, tradeWords } from "./compile-words.js";

/** One complaint: the compiler hands an explanation on as a complaint of its own at the same place. */
interface Complaint {
  readonly line: number;
  readonly column: number;
  readonly messages: readonly string[];
}

/** Why a cell does not compile: place, sentence in trade words, the line with a mark, the compiler's own words below. */
export function compileError(source: string, diagnostics: readonly Diagnostic[]): CellError {
  const complaints = grouped(diagnostics);
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

function sentence(complaint: Complaint): string {
  const text = tradeWords(complaint.messages) ?? plainNames(complaint.messages[0] ?? "");
  return `line ${complaint.line}, column ${complaint.column}: ${text}`;
}

function described(source: string, complaint: Complaint): string[] {
  const row = source.split("\n")[complaint.line - 1] ?? "";
  const mark = `${" ".repeat(Math.max(complaint.column - 1, 0))}^`;
  const own = complaint.messages.map(plainNames).join(" ");
  const whole = tradeWords(complaint.messages) === undefined && complaint.messages.length === 1;
  return [`CompileError: ${sentence(complaint)}`, `  ${row}`, `  ${mark}`, ...(whole ? [] : [`  compiler: ${own}`])];
}

function more(count: number): string[] {
  return count > 5 ? [`and ${count - 5} more in this cell`] : [];
}
