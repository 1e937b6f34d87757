import type { Notebook } from "./notebook.js";

/** The first heading of a notebook. */
export function titleOf(notebook: Notebook): string | undefined {
  for (const cell of notebook.cells) {
    const heading = cell.cell_type === "markdown" ? /^#+\s+(.+?)\s*$/m.exec(cell.source)?.[1] : undefined;
    if (heading !== undefined) return heading;
  }
  return undefined;
}
