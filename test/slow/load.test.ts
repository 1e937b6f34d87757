import { spawnSync } from "node:child_process";
import { copyFileSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, expect, it } from "vitest";
import type { CodeCell } from "../../kernel-lib/src/kernel/notebook.js";
import type { RanChapter } from "../../kernel-lib/src/kernel/ran-chapter.js";
import { writeReport } from "../../kernel-lib/src/kernel/report.js";
import { runNotebook } from "../../kernel-lib/src/kernel/runner.js";
import { median } from "../../kernel-lib/src/numerics/median.js";
import { um } from "../../kernel-lib/src/quantity/index.js";
import { readSurvey } from "../../kernel-lib/src/survey/index.js";
import { alive, built, notebook, project, scratch } from "../kernel/workplace.js";
import { kernelClock } from "./kernel-time.js";

beforeAll(built);

const mb = (bytes: number): number => Math.round(bytes / 1e5) / 10;

it("a survey of a million rows is read, and its map is what the rows say", () => {
  const [side, passes] = [100, 100];
  const path = join(scratch(), "million.csv");
  writeFileSync(path, surveyText(side, passes));
  const started = performance.now();
  const survey = readSurvey(path);
  const { places } = survey.surface();
  const seconds = (performance.now() - started) / 1000;
  console.log(`${side * side * passes} rows in ${seconds.toFixed(1)} s, ${mb(process.memoryUsage().rss)} MB`);
  expect(places).toHaveLength(side * side);
  const corner = places.find(({ label }) => label === `P${side - 1}-${side - 1}`)!;
  // every pass reads (column + row) − 1, + 0 or + 1 µm by turns
  expect(corner.zUm).toBeCloseTo(2 * (side - 1) - 1 / passes, 6);
}, 300_000);

it("a notebook of 2,000 cells, each with the value of the one before, runs to its end", async () => {
  const count = 2000;
  const cells = Array.from({ length: count }, (_, i) =>
    i === 0 ? 'import { um } from "dialbook";\nconst a0 = um(1);\na0' : `const a${i} = a${i - 1}.plus(um(1));\na${i}`,
  );
  const { ran, kernelMs } = await timed("long", cells);
  // the first cells also pay for what the engine compiles once
  const perCell = [50, 950, count - 101].map((from) => (kernelMs[from + 100]! - kernelMs[from]!) / 100);
  console.log(
    `2,000 cells in ${ran.seconds.toFixed(1)} s; ms of the kernel's processor a cell near 100, near 1,000, at the end: ${perCell.map((ms) => ms.toFixed(1)).join(" ")}`,
  );
  expect(ran.failure).toBeUndefined();
  const code = codeOf(ran);
  expect(code.map(({ execution_count }) => execution_count)).toEqual(code.map((_, i) => i + 1));
  expect(code.map(plain)).toEqual(code.map((_, i) => um(i + 1).text()));
  // a cell costs what it costs by itself, however many were run before it; it was the fivefold once
  expect(perCell[0]).toBeGreaterThan(0);
  expect(perCell.at(-1)! / perCell[0]!).toBeLessThan(3);
}, 1_200_000);

it("a notebook of 200 figures runs, and its report holds each of them and plotly once", async () => {
  const count = 200;
  const folder = scratch();
  copyFileSync(join(project, "data/table-before.csv"), join(folder, "table.csv"));
  const cells = [
    'import { figure, readSurvey } from "dialbook";\nconst table = readSurvey("table.csv").surface();',
    ...Array.from({ length: count }, (_, i) => `figure.heightMap(table, { notes: ["drawing ${i + 1}"] })`),
  ];
  const { ran, cellMs } = await timed("drawn", cells, folder);
  expect(ran.failure).toBeUndefined();
  const figures = codeOf(ran).flatMap(({ outputs }) =>
    outputs.filter((output) => "data" in output && "text/html" in output.data),
  );
  expect(figures).toHaveLength(count);
  const list = writeReport({ chapters: [ran], folder: join(folder, "report"), version: "0.0.0" });
  const page = readFileSync(join(list, "..", "drawn.html"), "utf8");
  const [first, last] = [cellMs.slice(1, 21), cellMs.slice(-20)].map((some) => Math.round(median(some)));
  console.log(
    `200 figures in ${ran.seconds.toFixed(1)} s, the first 20 ${first} ms each, the last 20 ${last} ms; the page ${mb(page.length)} MB`,
  );
  const live = [...page.matchAll(/data-dialbook-figure="([^"]*)"/g)].map(([, id]) => id);
  expect([live.length, new Set(live).size]).toEqual([count, count]);
  expect(page.match(/id="dialbook-plotly"/g)).toHaveLength(1);
  const missing = cells.slice(1).filter((_, i) => !page.includes(`"text":"drawing ${i + 1}"`));
  expect(missing).toEqual([]);
}, 1_200_000);

it("50 kernels in turn: from the 10th run on the runner grows by less than 10 MB, and no process, port or file is left", () => {
  const folder = scratch();
  notebook(join(folder, "small.ipynb"), ["process.pid", 'import { um } from "dialbook";\num(5)']);
  const script = join(project, "test/slow/kernels-in-turn.mjs");
  const { stdout, stderr, status } = spawnSync(process.execPath, ["--expose-gc", script, folder, "50"], {
    encoding: "utf8",
  });
  expect([status, stderr]).toEqual([0, ""]);
  const seen = JSON.parse(stdout) as InTurn;
  const later = median(seen.rss.slice(10));
  console.log(
    `runner: ${seen.rss[0]} MB after run 1, ${seen.rss[9]} after 10, median of 11 to 50 ${later}, ${seen.rss[49]} after 50`,
  );
  console.log(`its heap: ${seen.heap[0]} MB, ${seen.heap[9]}, median ${median(seen.heap.slice(10))}, ${seen.heap[49]}`);
  expect(seen.rss).toHaveLength(50);
  expect(Math.abs(later - seen.rss[9]!)).toBeLessThanOrEqual(10);
  expect(new Set(seen.kernels.map(({ pid }) => pid)).size).toBe(50);
  expect(seen.kernels.filter(({ pid }) => !(pid > 0) || alive(pid))).toEqual([]);
  expect(seen.kernels.map(({ ports }) => ports.length)).toEqual(Array.from({ length: 50 }, () => 5));
  expect(seen.busy).toEqual([]);
  expect(seen.connectionFiles).toEqual([]);
}, 1_200_000);

/** what kernels-in-turn.mjs prints: memory in MB after each run, then what is left of the kernels */
interface InTurn {
  readonly rss: readonly number[];
  readonly heap: readonly number[];
  readonly kernels: readonly { readonly pid: number; readonly ports: readonly number[] }[];
  readonly busy: readonly number[];
  readonly connectionFiles: readonly string[];
}

/** Runs a notebook of these cells and keeps how long each took, in ms, and the kernel's own time as each began. */
async function timed(name: string, cells: readonly string[], folder = scratch()) {
  const starts: number[] = [];
  const kernelMs: number[] = [];
  const kernelTime = kernelClock();
  const path = notebook(join(folder, `${name}.ipynb`), cells);
  const progress = (): void => {
    starts.push(performance.now());
    kernelMs.push(kernelTime());
  };
  const ran = await runNotebook({ path, outputFolder: folder, progress });
  starts.push(performance.now());
  return { ran, kernelMs, cellMs: starts.slice(1).map((at, i) => at - starts[i]!) };
}

const codeOf = ({ notebook: { cells } }: RanChapter): CodeCell[] =>
  cells.filter((cell): cell is CodeCell => cell.cell_type === "code");

function plain({ outputs }: CodeCell): unknown {
  return outputs.map((output) => ("data" in output ? output.data["text/plain"] : output)).join();
}

/** a square grid of places, each read in every pass: column + row in µm, one less, right, one more by turns */
function surveyText(side: number, passes: number): string {
  const lines = [
    "# relative to: travel\n# front: y-\n# +x: right\n# +y: back",
    "# gauge resolution: 1 um\n# gauge maximum permissible error: 4 um",
    "place,x/mm,y/mm,z/um,pass",
  ];
  for (let pass = 1; pass <= passes; pass++) {
    for (let row = 0; row < side; row++) {
      for (let column = 0; column < side; column++) {
        const z = column + row + (passes === 1 ? 0 : ((pass - 1) % 3) - 1);
        lines.push(`P${column}-${row},${column * 5},${row * 5},${z},${pass}`);
      }
    }
  }
  return `${lines.join("\n")}\n`;
}
