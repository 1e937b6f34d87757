import type { Executor } from "tslab/dist/executor.js";
import { completions } from "./completion.js";
import { hoverMarkdown, hoverText, nameHelp } from "./hover.js";

type Content = { readonly [key: string]: unknown };

/** Names that may stand at the cursor, with their kinds, and signatures where the list is short. */
export function complete(executor: Executor, request: Content): Content {
  const code = String(request.code ?? "");
  const { start, end, found } = completions(executor, code, unitsAt(code, request.cursor_pos));
  // Jupyter counts characters, the compiler 16-bit units: a µ is one of both, an emoji is not
  const [from, to] = [start, end].map((at) => Array.from(code.slice(0, at)).length);
  const typed = found.map((one) => ({ ...one, start: from, end: to }));
  return {
    status: "ok",
    matches: found.map(({ text }) => text),
    cursor_start: from,
    cursor_end: to,
    metadata: { _jupyter_types_experimental: typed },
  };
}

/** Signature and documentation of what stands at the cursor, as Markdown and as plain text. */
export function inspectAt(executor: Executor, request: Content): Content {
  const code = String(request.code ?? "");
  const info = executor.inspect(code, unitsAt(code, request.cursor_pos));
  if (!info) return { status: "ok", found: false, data: {}, metadata: {} };
  const help = nameHelp(info);
  const data = { "text/markdown": hoverMarkdown(help), "text/plain": hoverText(help) };
  return { status: "ok", found: true, data, metadata: {} };
}

function unitsAt(code: string, cursor: unknown): number {
  if (typeof cursor !== "number") return code.length;
  return Array.from(code).slice(0, cursor).join("").length;
}
