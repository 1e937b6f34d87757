import { readdirSync, readFileSync, statSync } from "node:fs";
import { join, resolve } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import type { Cell, CodeCell, Notebook } from "../../kernel-lib/src/kernel/notebook.js";
import { parseNotebook } from "../../kernel-lib/src/kernel/notebook-file.js";
import type { RanChapter } from "../../kernel-lib/src/kernel/ran-chapter.js";
import { runNotebook } from "../../kernel-lib/src/kernel/runner.js";
import { built } from "../kernel/workplace.js";

const root = resolve(import.meta.dirname, "../..");
const folder = join(root, "notebooks");
const files = readdirSync(folder).filter((name) => name.endsWith(".ipynb"));
const chapters = files.filter((name) => !name.startsWith("blank"));
const runHere = files;

const read = (name: string): Notebook => parseNotebook(readFileSync(join(folder, name), "utf8"), name);
const isCode = (cell: Cell): cell is CodeCell => cell.cell_type === "code";
const code = (notebook: Notebook): readonly CodeCell[] => notebook.cells.filter(isCode);
const words = (text: string) => text.split(/\s+/).filter((word) => /\p{L}/u.test(word)).length;

describe("the chapters in the real kernel", () => {
  const ran = new Map<string, RanChapter>();
  beforeAll(async () => {
    built();
    const run = async (name: string) => {
      const outputFolder = join(root, "build", "test", "chapters");
      ran.set(name, await runNotebook({ path: join(folder, name), outputFolder }));
    };
    // two kernels at once: as many as the machine has cores
    const queue = [...runHere];
    const worker = async (): Promise<void> => {
      for (let name = queue.shift(); name !== undefined; name = queue.shift()) await run(name);
    };
    await Promise.all([worker(), worker()]);
  }, 90_000);

  it.each(runHere)("%s runs from top to bottom and confirms what it states", (name) => {
    const chapter = ran.get(name);
    expect(chapter?.failure).toBeUndefined();
    const texts = code(chapter!.notebook).flatMap(({ outputs }) => outputs.map((output) => output.output_type));
    expect(texts).not.toContain("error");
  });

  it.each(chapters)("%s shows what is kept in it", (name) => {
    const text = (notebook: Notebook) =>
      code(notebook).map(({ outputs }) => outputs.map((o) => ("data" in o ? o.data["text/plain"] : "")));
    // the last cell names the version of Node
    expect(text(ran.get(name)!.notebook).slice(0, -1)).toEqual(text(read(name)).slice(0, -1));
  });
});

describe.each(files)("%s", (name) => {
  const notebook = read(name);

  it("opens with question, answer, data and what is not covered", () => {
    const opening = notebook.cells[0]?.source ?? "";
    for (const part of ["**The question.**", "**The answer.**", "**The data.**", "**Not covered.**"]) {
      expect(opening).toContain(part);
    }
  });

  it("keeps cells that a reader takes in at one look", () => {
    expect(notebook.cells.filter((c) => isCode(c) && c.source.split("\n").length > 18).map((c) => c.source)).toEqual(
      [],
    );
    expect(notebook.cells.filter((c) => !isCode(c) && words(c.source) > 130).map((c) => words(c.source))).toEqual([]);
  });

  it("imports from the package alone and reads only its own data", () => {
    const source = code(notebook)
      .map((c) => c.source)
      .join("\n");
    expect([...source.matchAll(/from "([^"]+)"/g)].map((found) => found[1])).toEqual(["dialbook"]);
    expect([...source.matchAll(/"(\.\.?\/[^"]+)"/g)].filter((found) => !found[1]!.startsWith("../data/"))).toEqual([]);
    expect(source).not.toMatch(/console\.log|\bany\b/);
  });

  it("ends on versions and checksums", () => {
    expect(code(notebook).at(-1)?.source).toMatch(/\nversions\(|^versions\(/);
  });

  it("is kept with its outputs, run from top to bottom, in less than 1 MB", () => {
    expect(code(notebook).map((c) => c.execution_count)).toEqual(code(notebook).map((_, i) => i + 1));
    expect(statSync(join(folder, name)).size).toBeLessThan(1_000_000);
  });
});
