import type { Notebook } from "./notebook.js";

/**
 * What the numbers of a saved notebook's cells tell of the order they were run in; nothing where that was top to bottom
 * in a fresh kernel, or where no cell was run.
 */
export function handOrder({ cells }: Notebook): string | undefined {
  const code = cells.filter((cell) => cell.cell_type === "code" && cell.source.trim() !== "");
  const counts = code.map((cell) => (cell.cell_type === "code" ? cell.execution_count : null));
  const ran = counts.filter((count) => count !== null);
  if (ran.length === 0 || counts.every((count, i) => count === i + 1)) return undefined;
  const missing = counts.length - ran.length;
  const order = listed(counts.map((count) => (count === null ? "–" : String(count))));
  const left = missing === 0 ? "" : `, ${missing} of ${counts.length} cells not run`;
  return `The notebook was saved after its cells were run by hand in another order (${order}${left}); what stands here is from a run top to bottom in a fresh kernel.`;
}

/** a long list is cut where it first leaves the order, a few numbers on */
function listed(counts: readonly string[]): string {
  const first = counts.findIndex((count, i) => count !== String(i + 1));
  const from = Math.max(0, first - 1);
  const to = from + 6;
  return `${from > 0 ? "… " : ""}${counts.slice(from, to).join(", ")}${to < counts.length ? " …" : ""}`;
}
