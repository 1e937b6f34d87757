import type { CodeCell } from "./notebook.js";
import type { Message } from "./wire.js";

/** One sentence on why a chapter stopped: chapter, cell, line where known, what happened. */
function sentence(chapter: string, cell: number, place: unknown, what: string): string {
  const at = isPlace(place) ? `, line ${place.line}` : "";
  return `${chapter}, cell ${cell}${at}: ${what.replace(/\s+/g, " ").trim()}`;
}

/** Metadata of a file may hold anything. */
function tagsOf({ metadata: { tags } }: CodeCell): readonly unknown[] {
  return Array.isArray(tags) ? tags : [];
}

/** What a reply says went wrong; a cell tagged `raises-exception` is wrong when it does not stop. */
export function replyFailure(chapter: string, cell: number, source: CodeCell, reply: Message): string | undefined {
  const { status, ename, evalue, place } = reply.content;
  const meant = tagsOf(source).includes("raises-exception");
  if (status === "ok") {
    return meant
      ? sentence(chapter, cell, undefined, "ran, but is tagged raises-exception: it should be refused")
      : undefined;
  }
  if (meant) return undefined;
  if (status !== "error") return sentence(chapter, cell, undefined, `was not run (${String(status)})`);
  if (ename === "CompileError") {
    return sentence(chapter, cell, place, `does not compile: ${String(evalue).replace(/^line \d+, /, "")}`);
  }
  return sentence(chapter, cell, place, `${String(ename)}: ${String(evalue)}`);
}

/** A cell that took too long. */
export function timeoutFailure(chapter: string, cell: number, seconds: number): string {
  return sentence(
    chapter,
    cell,
    undefined,
    `was stopped after ${seconds} s; make it quicker, or allow more with --timeout`,
  );
}

/** A kernel that ended while a cell ran. */
export function deathFailure(chapter: string, cell: number, how: string): string {
  return sentence(chapter, cell, undefined, `the kernel ${how} while this cell ran`);
}

/** An error from a timer or a forgotten promise, which no reply tells of. */
export function lateFailure(chapter: string, cell: number, message: Message): string | undefined {
  const mark = message.metadata.dialbook;
  if (typeof mark !== "object" || mark === null || !("late" in mark)) return undefined;
  const what = String(message.content.text).replace(/ \(thrown .*\)\n$/, "");
  return sentence(chapter, cell, mark, `${what}, thrown by a timer or a promise nobody awaits`);
}

function isPlace(value: unknown): value is { readonly line: number } {
  return typeof value === "object" && value !== null && "line" in value && typeof value.line === "number";
}
