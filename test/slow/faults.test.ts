import { type ChildProcess, execFileSync, spawn, spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, beforeAll, describe, expect, it } from "vitest";
import { parseNotebook } from "../../kernel-lib/src/kernel/notebook-file.js";
import { alive, bin, built, notebook, scratch } from "../kernel/workplace.js";

beforeAll(built);

const sheet = `# relative to: travel
# front: y-
# +x: right
# +y: back
# gauge resolution: 1 um
# gauge maximum permissible error: 4 um
place,x/mm,y/mm,z/um,pass
A1,0,0,3,1
B1,50,0,-2,1
C1,50,40,1,1
D1,0,40,2,1
`;
/** reads, computes, waits, shows a figure: a kernel can be met in each of these */
const cells = [
  "# A chapter to be stopped\n\nIn the middle of what it does.",
  'import { figure, form, readSurvey } from "dialbook";\nconst read = readSurvey("../data/sheet.csv");',
  "function work(ms: number): number {\n  const end = Date.now() + ms;\n  let sum = 0;\n  while (Date.now() < end) sum += 1;\n  return sum;\n}\nwork(1500) > 0",
  "await new Promise((resolve) => setTimeout(resolve, 1500));",
  "figure.heightMap(read.surface())",
  // where a run is to be killed, it comes to its end not before that, however late
  'const { existsSync } = await import("node:fs");\nwhile (existsSync("../held")) await new Promise((resolve) => setTimeout(resolve, 50));\nform.plane(read.surface())',
];

/** a project with one chapter and its sheet; `folder` may be a small disk */
function workshop(folder = scratch()): string {
  for (const name of ["notebooks", "data"]) mkdirSync(join(folder, name));
  writeFileSync(join(folder, "data", "sheet.csv"), sheet);
  notebook(join(folder, "notebooks", "01-stopped.ipynb"), cells);
  return folder;
}

function filesIn(folder: string): string[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((name) => statSync(join(folder, name)).isFile())
    .sort();
}

/** the checksum of every file that a person brought */
function inputs(folder: string): string[] {
  return ["notebooks", "data"].flatMap((part) =>
    filesIn(join(folder, part)).map((name) => {
      const sha = createHash("sha256")
        .update(readFileSync(join(folder, part, name)))
        .digest("hex");
      return `${part}/${name} ${sha}`;
    }),
  );
}

/** outputs that are neither whole nor absent; what stands under a dot is a file in the making, not an output */
function broken(folder: string): string[] {
  const build = join(folder, "build");
  return filesIn(build).flatMap((name) => {
    if (/(^|[\\/])\.[^\\/]+$/.test(name)) return [];
    const text = readFileSync(join(build, name), "utf8");
    if (name.endsWith(".html")) return text.trimEnd().endsWith("</html>") ? [] : [name];
    if (!name.endsWith(".ipynb")) return [`${name} is no output`];
    return parseNotebook(text, name).cells.length === cells.length ? [] : [name];
  });
}

let running: ChildProcess[] = [];
afterEach(() => {
  for (const child of running) child.kill("SIGKILL");
  running = [];
});

interface Run {
  readonly child: ChildProcess;
  readonly ended: Promise<{ code: number | null; out: string; err: string }>;
  readonly said: (words: RegExp) => Promise<void>;
}

function run(folder: string, ...more: string[]): Run {
  const child = spawn(process.execPath, [bin, "run", "--save", "--report", ...more], {
    cwd: folder,
    env: { ...process.env, DIALBOOK_BUILT: "1" },
    stdio: ["ignore", "pipe", "pipe"],
  });
  running.push(child);
  let [out, err] = ["", ""];
  const heard = new Set<() => void>();
  child.stdout.on("data", (text) => {
    out += text;
    for (const look of heard) look();
  });
  child.stderr.on("data", (text) => {
    err += text;
  });
  const ended = new Promise<{ code: number | null; out: string; err: string }>((resolve) =>
    child.once("close", (code) => resolve({ code, out, err })),
  );
  const said = (words: RegExp) =>
    new Promise<void>((resolve, reject) => {
      const look = (): void => {
        if (words.test(out)) resolve();
      };
      heard.add(look);
      look();
      void ended.then(() => reject(new Error(`ended before it said ${words}: ${out}${err}`)));
    });
  return { child, ended, said };
}

/** the same, and a run of it does not end by itself */
function heldWorkshop(): string {
  const folder = workshop();
  writeFileSync(join(folder, "held"), "");
  return folder;
}

/** the processes that a process started, as Linux lists them */
function childrenOf(pid: number): number[] {
  const found = spawnSync("ps", ["-o", "pid=", "--ppid", String(pid)], { encoding: "utf8" }).stdout;
  return found.trim().split(/\s+/).filter(Boolean).map(Number).filter(alive);
}

async function kernelOf(run: Run): Promise<number> {
  while (run.child.exitCode === null && run.child.signalCode === null) {
    const kernels = childrenOf(run.child.pid!).filter((pid) =>
      spawnSync("ps", ["-o", "args=", "-p", String(pid)], { encoding: "utf8" }).stdout.includes("kernel serve"),
    );
    if (kernels[0] !== undefined) return kernels[0];
    await pause(20);
  }
  throw new Error("the run ended before its kernel was seen");
}

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

async function gone(pid: number): Promise<boolean> {
  for (const end = performance.now() + 30_000; performance.now() < end && alive(pid); ) await pause(50);
  return !alive(pid);
}

/** when to strike: what the run has said by then, and how long after */
const phases: readonly (readonly [string, RegExp, number])[] = [
  ["while it starts", /running/, 50],
  ["while it reads", /cell 1\/5/, 0],
  ["while it computes", /cell 2\/5/, 500],
  ["while it waits", /cell 3\/5/, 500],
  ["while it draws", /cell 4\/5/, 0],
];

describe("whatever is killed, what a person brought stays as it is and outputs are whole or absent", () => {
  it.each(phases)("the kernel, %s", async (_, words, ms) => {
    const folder = heldWorkshop();
    const before = inputs(folder);
    const one = run(folder);
    const kernel = await kernelOf(one);
    await one.said(words);
    await pause(ms);
    process.kill(kernel, "SIGKILL");
    const { code, err } = await one.ended;
    expect(code).toBe(1);
    expect(err).toMatch(/^01-stopped(?:, cell \d|: ).*the kernel .*(?:killed|SIGKILL)/m);
    expect(inputs(folder)).toEqual(before);
    expect(broken(folder)).toEqual([]);
  });

  it.each(phases)("the run itself, %s: its kernel ends too", async (_, words, ms) => {
    const folder = heldWorkshop();
    const before = inputs(folder);
    const one = run(folder);
    const kernel = await kernelOf(one);
    await one.said(words);
    await pause(ms);
    one.child.kill("SIGKILL");
    await one.ended;
    expect(await gone(kernel)).toBe(true);
    expect(inputs(folder)).toEqual(before);
    // the file that tells the kernel's ports is of no use to anybody now, and readable by its owner alone
    expect(broken(folder).filter((name) => !/kernel-.*\.json is no output$/.test(name))).toEqual([]);
  });

  it("a second run afterwards does all of it", async () => {
    const folder = workshop();
    const first = run(folder);
    await first.said(/cell 2\/5/);
    first.child.kill("SIGKILL");
    await first.ended;
    const { code, err } = await run(folder).ended;
    expect([code, err]).toEqual([0, ""]);
    expect(existsSync(join(folder, "build", "report", "index.html"))).toBe(true);
  });
});

it("Ctrl-C stops the running cell, keeps what ran, and says how to end at once", async () => {
  const folder = workshop();
  const before = inputs(folder);
  const one = run(folder);
  await one.said(/cell 2\/5/);
  one.child.kill("SIGINT");
  const { code, err } = await one.ended;
  expect([code, err]).toEqual([
    1,
    "stopping the running cells, what ran is kept; press Ctrl-C once more to end at once\n01-stopped: was stopped before its end; the notebook itself was left as it was\n",
  ]);
  expect(existsSync(join(folder, "build", "notebooks", "01-stopped.ipynb"))).toBe(true);
  expect(inputs(folder)).toEqual(before);
});

it("two runs of one folder at once both end well, and what they leave is whole", async () => {
  const folder = workshop();
  const both = await Promise.all([run(folder).ended, run(folder).ended]);
  expect(both.map(({ code, err }) => [code, err])).toEqual([
    [0, ""],
    [0, ""],
  ]);
  expect(broken(folder)).toEqual([]);
  const saved = parseNotebook(readFileSync(join(folder, "notebooks", "01-stopped.ipynb"), "utf8"), "a");
  expect(saved.cells.map((cell) => (cell.cell_type === "code" ? cell.execution_count : 0))).toEqual([0, 1, 2, 3, 4, 5]);
});

/** a disk in memory, where this machine lets us have one */
function smallDisk(size: string): string | undefined {
  const folder = scratch();
  const { status } = spawnSync("mount", ["-t", "tmpfs", "-o", `size=${size}`, "tmpfs", folder]);
  if (status === 0) return folder;
  console.warn("skipped: a small disk can't be mounted here");
  return undefined;
}

it.each(["40k", "200k"])("a disk of %s that fills up while a run writes", async (size) => {
  const disk = smallDisk(size);
  if (disk === undefined) return;
  try {
    const folder = workshop(disk);
    const before = inputs(folder);
    const { code, err } = await run(folder).ended;
    expect(code).toBe(1);
    expect(err).toMatch(/was not written, the disk is full; make room and run it again/);
    const saved = inputs(folder);
    // the chapter is saved or as it was; the sheet is as it was
    expect(saved.filter((line) => line.startsWith("data/"))).toEqual(before.filter((line) => line.startsWith("data/")));
    expect(() => parseNotebook(readFileSync(join(folder, "notebooks/01-stopped.ipynb"), "utf8"), "a")).not.toThrow();
    expect(broken(folder)).toEqual([]);
  } finally {
    execFileSync("umount", [disk]);
  }
});

it("a read-only disk", async () => {
  const disk = smallDisk("200k");
  if (disk === undefined) return;
  try {
    const folder = workshop(disk);
    const before = inputs(folder);
    execFileSync("mount", ["-o", "remount,ro", disk]);
    const { code, err } = await run(folder).ended;
    expect([code, err.trim().split("\n").length]).toEqual([1, 1]);
    expect(err).toContain("the disk is read-only; choose a folder on another one");
    expect(inputs(folder)).toEqual(before);
    expect(existsSync(join(folder, "build"))).toBe(false);
  } finally {
    execFileSync("umount", [disk]);
  }
});

it.each([
  ["notebooks/01-stopped.ipynb", "01-stopped.ipynb: is not a notebook, or is damaged; restore it from a copy"],
  ["data/sheet.csv", "sheet.csv line 9: "],
])("a truncated file is named and left as it is: %s", async (file, sentence) => {
  const folder = workshop();
  const path = join(folder, file);
  const whole = readFileSync(path, "utf8");
  writeFileSync(path, file.endsWith(".csv") ? whole.slice(0, whole.indexOf("B1,50") + 5) : whole.slice(0, 300));
  const before = inputs(folder);
  const { code, err } = await run(folder).ended;
  expect(code).toBe(1);
  expect(err).toContain(sentence);
  expect(inputs(folder)).toEqual(before);
  expect(broken(folder)).toEqual([]);
});
