import { existsSync, readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import type { CodeCell } from "../../kernel-lib/src/kernel/notebook.js";
import type { RanChapter } from "../../kernel-lib/src/kernel/ran-chapter.js";
import { type RunOptions, runNotebook } from "../../kernel-lib/src/kernel/runner.js";
import { schemaErrors } from "./nbformat-schema.js";
import { built, notebook, scratch } from "./workplace.js";

const folder = scratch();
const outputFolder = join(folder, "kept");
const cells: { readonly [name: string]: readonly string[] } = {
  good: [
    "# The good one",
    'import { display, newDisplay } from "tslab";',
    'console.log("a");\nconsole.log("b");\nconsole.error("c");',
    'const shown = newDisplay();\nshown.html("before");\nshown.html("after");',
    "",
    "6 * 7",
  ],
  throws: [
    "1",
    'const limit = 3;\nfunction probe(): void {\n  throw new RangeError("4 is\\nover 3");\n}\n\nprobe();',
    "3",
  ],
  slow: ["1", "while (true) {}", "3"],
  dies: ["1", "console.log('last');\nprocess.exit(3);", "3"],
  late: ["1", 'setTimeout(() => {\n  throw new Error("nobody catches this");\n}, 20);'],
};

const ran = new Map<string, RanChapter>();
const seen: string[] = [];
const run = async (name: string, more: Partial<RunOptions> = {}): Promise<RanChapter> => {
  const path = join(folder, `${name}.ipynb`);
  return runNotebook({ path, outputFolder, progress: (k, n) => seen.push(`${name} ${k}/${n}`), ...more });
};
const sources = new Map<string, string>();

beforeAll(async () => {
  built();
  const names = Object.keys(cells);
  for (const name of names) {
    sources.set(name, readFileSync(notebook(join(folder, `${name}.ipynb`), cells[name]!), "utf8"));
  }
  const queue = names.values();
  const worker = async (): Promise<void> => {
    for (const name of queue)
      ran.set(name, await run(name, { save: true, ...(name === "slow" && { timeoutSeconds: 8 }) }));
  };
  await Promise.all([worker(), worker()]);
}, 600_000);

const code = (name: string): CodeCell[] =>
  ran.get(name)!.notebook.cells.filter((cell): cell is CodeCell => cell.cell_type === "code");

describe("a notebook that runs", () => {
  it("has its outputs as a front end would keep them", () => {
    expect(ran.get("good")).toMatchObject({ name: "good", title: "The good one" });
    expect(ran.get("good")?.failure).toBeUndefined();
    expect(code("good").map(({ execution_count }) => execution_count)).toEqual([1, 2, 3, null, 4]);
    expect(code("good").map(({ outputs }) => outputs)).toEqual([
      [],
      [
        { output_type: "stream", name: "stdout", text: "a\nb\n" },
        { output_type: "stream", name: "stderr", text: "c\n" },
      ],
      [{ output_type: "display_data", data: { "text/html": "after" }, metadata: {} }],
      [],
      [{ output_type: "execute_result", execution_count: 4, data: { "text/plain": "42" }, metadata: {} }],
    ]);
  });

  it("tells how far it is", () => {
    expect(seen.filter((line) => line.startsWith("good"))).toEqual(["good 1/4", "good 2/4", "good 3/4", "good 4/4"]);
  });

  it("is saved twice to the same bytes, by relative paths too, valid by the schema, with no path of this machine", async () => {
    const path = join(folder, "good.ipynb");
    const first = readFileSync(path, "utf8");
    expect(first).not.toBe(sources.get("good"));
    // a relative folder was looked for in the folder of the notebook: "the kernel ended … before it answered"
    const here = (file: string) => relative(process.cwd(), file);
    await run("good", { save: true, path: here(path), outputFolder: here(outputFolder) });
    expect(readFileSync(path, "utf8")).toBe(first);
    expect(schemaErrors(JSON.parse(first))).toEqual([]);
    expect(first).toBe(readFileSync(join(outputFolder, "good.ipynb"), "utf8"));
    expect(first).not.toContain(folder);
  });
});

it("is stopped though the word comes before its cell has begun to run", async () => {
  notebook(join(folder, "stopped.ipynb"), ["1", "while (true) {}", "3"]);
  const stop = new AbortController();
  // a kernel that still compiles a cell does not hear it
  const progress = (cell: number): void => {
    if (cell === 2) stop.abort();
  };
  const { failure, notebook: kept } = await run("stopped", { progress, signal: stop.signal, timeoutSeconds: 100_000 });
  expect(failure).toBe("stopped: was stopped before its end");
  expect(kept.cells.map((cell) => (cell.cell_type === "code" ? cell.execution_count : 0))).toEqual([1, 2, null]);
});

describe("a chapter that fails says so in one sentence", () => {
  it.each([
    ["throws", "throws, cell 2, line 3: RangeError: 4 is over 3"],
    ["slow", "slow, cell 2: was stopped after 8 s; make it quicker, or allow more with --timeout"],
    ["dies", "dies, cell 2: the kernel ended with exit code 3 while this cell ran"],
    ["late", "late, cell 2, line 2: Error: nobody catches this, thrown by a timer or a promise nobody awaits"],
  ])("%s", (name, sentence) => {
    expect(ran.get(name)?.failure).toBe(sentence);
  });

  it("keeps what ran, stops at the failing cell, leaves the source alone and no file of the kernel", () => {
    for (const name of ["throws", "slow", "dies", "late"]) {
      const kept = JSON.parse(readFileSync(join(outputFolder, `${name}.ipynb`), "utf8"));
      expect(schemaErrors(kept)).toEqual([]);
      expect(readFileSync(join(folder, `${name}.ipynb`), "utf8")).toBe(sources.get(name));
    }
    expect(code("throws").map(({ execution_count }) => execution_count)).toEqual([1, 2, null]);
    expect(code("throws")[1]?.outputs[0]).toMatchObject({ output_type: "error", ename: "RangeError" });
    expect(code("slow")[1]?.outputs[0]).toMatchObject({ output_type: "error", ename: "Interrupted" });
    expect(code("dies")[1]?.outputs[0]).toMatchObject({ text: "last\n" });
    expect(readdirSync(outputFolder).filter((name) => name.startsWith("kernel-"))).toEqual([]);
    expect(existsSync(join(outputFolder, "good.ipynb"))).toBe(true);
  });
});
