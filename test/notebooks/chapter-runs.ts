import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { beforeAll, expect, it } from "vitest";
import type { Cell, CodeCell, Notebook } from "../../kernel-lib/src/kernel/notebook.js";
import { parseNotebook } from "../../kernel-lib/src/kernel/notebook-file.js";
import type { RanChapter } from "../../kernel-lib/src/kernel/ran-chapter.js";
import { runNotebook } from "../../kernel-lib/src/kernel/runner.js";
import { built } from "../kernel/workplace.js";

export const root = resolve(import.meta.dirname, "../..");
export const folder = join(root, "notebooks");
export const files = readdirSync(folder).filter((name) => name.endsWith(".ipynb"));
/** run by every `npm test`; the slow suite runs the others */
export const runFast = files.filter((name) => /^(05|10|blank)/.test(name));

export const read = (name: string): Notebook => parseNotebook(readFileSync(join(folder, name), "utf8"), name);
export const isCode = (cell: Cell): cell is CodeCell => cell.cell_type === "code";
export const code = (notebook: Notebook): readonly CodeCell[] => notebook.cells.filter(isCode);

/** Runs chapters in the real kernel and holds what they show against what is kept in them. */
export function holdChapters(names: readonly string[], timeout: number): void {
  const ran = new Map<string, RanChapter>();
  beforeAll(async () => {
    built();
    const run = async (name: string) => {
      const outputFolder = join(root, "build", "test", "chapters");
      ran.set(name, await runNotebook({ path: join(folder, name), outputFolder }));
    };
    // two kernels at once: as many as the machine has cores
    const queue = [...names];
    const worker = async (): Promise<void> => {
      for (let name = queue.shift(); name !== undefined; name = queue.shift()) await run(name);
    };
    await Promise.all([worker(), worker()]);
  }, timeout);

  it.each(names)("%s runs from top to bottom and confirms what it states", (name) => {
    const chapter = ran.get(name);
    expect(chapter?.failure).toBeUndefined();
    const texts = code(chapter!.notebook).flatMap(({ outputs }) => outputs.map((output) => output.output_type));
    expect(texts).not.toContain("error");
  });

  it.each(names.filter((name) => !name.startsWith("blank")))("%s shows what is kept in it", (name) => {
    const text = (notebook: Notebook) =>
      code(notebook).map(({ outputs }) => outputs.map((o) => ("data" in o ? o.data["text/plain"] : "")));
    // the last cell names the version of Node
    expect(text(ran.get(name)!.notebook).slice(0, -1)).toEqual(text(read(name)).slice(0, -1));
  });
}
