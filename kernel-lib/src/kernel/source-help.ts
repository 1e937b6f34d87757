import type { JupyterHandlerImpl } from "tslab/dist/jupyter.js";

type Content = { readonly [key: string]: unknown };

/** Names that may stand at the cursor. Jupyter counts characters, the compiler 16-bit units: a µ is one of both, an
 * emoji is not. */
export function complete(help: JupyterHandlerImpl, request: Content): Content {
  const code = String(request.code ?? "");
  const reply = help.handleComplete({ code, cursor_pos: unitsAt(code, request.cursor_pos) });
  const [start, end] = [reply.cursor_start, reply.cursor_end].map((at) => Array.from(code.slice(0, at)).length);
  return { ...reply, cursor_start: start, cursor_end: end };
}

/** Signature and documentation of what stands at the cursor. */
export function inspectAt(help: JupyterHandlerImpl, request: Content): Content {
  const code = String(request.code ?? "");
  return { ...help.handleInspect({ code, cursor_pos: unitsAt(code, request.cursor_pos), detail_level: 0 }) };
}

function unitsAt(code: string, cursor: unknown): number {
  if (typeof cursor !== "number") return code.length;
  return Array.from(code).slice(0, cursor).join("").length;
}
