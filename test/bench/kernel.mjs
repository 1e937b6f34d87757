// `npm run bench:kernel [-- rounds]`: what a person who works by hand waits for: start of the kernel beside plain tslab in
// turn, the first import (a second and a half later, and as part of a start with the import sent at once), a small cell, a figure of a map of 15 × 6 places. One JSON line a measurement; ends with 1 where
// a target is missed. Only figures of a quiet machine mean anything. With --start: `dialbook run 5` instead, seconds until
// its first line and its end; with --cold as well, each time after the system has forgotten its files (root, Linux).
import { spawn } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { freshBuild } from "./tasks.mjs";

const given = process.argv.slice(2);
const rounds = Number(given.find((word) => !word.startsWith("--")) ?? 5);
const project = fileURLToPath(new URL("../../", import.meta.url));
const require = createRequire(import.meta.url);
await freshBuild();
const part = (name) => require(`../../kernel-lib/dist/kernel/${name}.js`);
const [{ KernelClient }, { KernelProcess }, { writeConnection }] = ["client", "kernel-process", "connection-file"].map(
  part,
);
mkdirSync(join(project, "build"), { recursive: true });
const scratch = mkdtempSync(join(project, "build", "bench-kernel-"));
const folder = join(project, "notebooks");
const sheet = join(scratch, "map.csv");
writeFileSync(sheet, mapOfPlaces(15, 6));
const pauseMs = 1500;
const importing = 'import { figure, form, mm, readSurvey, um } from "dialbook";';
/** none of them loads or parses anything new */
const small = [
  "mm(1)",
  "const gap = mm(1).plus(um(5));",
  "gap.times(3)",
  "[1, 2, 3].map((n) => um(n))",
  "gap.in('um')",
];
const seen = { start: [], stock: [], atOnce: [], import: [], cell: [], figure: [], figureCpu: [], bytes: [] };

if (given.includes("--start")) {
  const runs = [];
  for (let round = 0; round < rounds; round++) runs.push(await chapter(given.includes("--cold")));
  const [first_line_s, end_s] = [0, 1].map((i) => middle(runs.map((times) => times[i])));
  console.log(JSON.stringify({ id: "run_5", cold: given.includes("--cold"), rounds, first_line_s, end_s }));
  rmSync(scratch, { recursive: true, force: true });
  process.exit();
}

try {
  for (let round = 0; round < rounds; round++) {
    seen.stock.push(await stockStart());
    seen.atOnce.push(await importAtOnce());
    await ours();
  }
  report(
    "start_to_ready",
    { ratio: middle(seen.start) / middle(seen.stock), stock_s: middle(seen.stock) },
    1.2,
    "ratio",
  );
  console.log(JSON.stringify({ id: "start_and_import_at_once", rounds, median_s: middle(seen.atOnce) }));
  report("first_import", { median_s: middle(seen.import) }, 0.25, "median_s");
  report("small_cell", { median_s: middle(seen.cell) }, 0.06, "median_s");
  const figure = { median_s: middle(seen.figure), cpu_s: middle(seen.figureCpu) };
  report("map_figure", figure, 0.05, "median_s");
  report("map_figure_bytes", { bytes: Math.max(...seen.bytes) }, 150_000, "bytes");
} finally {
  rmSync(scratch, { recursive: true, force: true });
}

/** seconds until the first line of a small chapter's run and until its end */
async function chapter(cold) {
  if (cold) writeFileSync("/proc/sys/vm/drop_caches", "1");
  const begun = performance.now();
  const since = () => (performance.now() - begun) / 1000;
  const bin = join(project, "kernel-lib", "bin", "dialbook.js");
  const child = spawn(process.execPath, [bin, "run", "5"], { cwd: project, stdio: ["ignore", "pipe", "inherit"] });
  let first;
  child.stdout.on("data", () => {
    first ??= since();
  });
  const code = await new Promise((resolve) => child.once("close", resolve));
  if (code !== 0) throw new Error(`dialbook run 5 ended with ${code}`);
  return [first, since()];
}

/** seconds from the spawn of plain tslab until both its channels answer */
async function stockStart() {
  const { path, connection } = await writeConnection(scratch);
  const begun = performance.now();
  const tslab = require.resolve("tslab/bin/tslab");
  const child = spawn(process.execPath, [tslab, "kernel", "--config-path", path], { cwd: folder, stdio: "ignore" });
  const client = new KernelClient(connection, () => undefined);
  await client.ready();
  const seconds = (performance.now() - begun) / 1000;
  const gone = new Promise((resolve) => child.once("close", resolve));
  child.kill("SIGKILL");
  await gone;
  client.close();
  return seconds;
}

/** seconds from the spawn of the kernel to the end of an import sent as soon as it answers, as a run sends it */
async function importAtOnce() {
  const begun = performance.now();
  const kernel = await KernelProcess.start({ folder, scratch, published: () => undefined });
  await kernel.client.request("execute_request", { code: importing, silent: false, store_history: true }).reply;
  const seconds = (performance.now() - begun) / 1000;
  await kernel.shutdown();
  return seconds;
}

async function ours() {
  let bundle;
  const published = ({ header, content }) => {
    if (header.msg_type === "execute_result") bundle = content.data;
  };
  const begun = performance.now();
  const kernel = await KernelProcess.start({ folder, scratch, published });
  seen.start.push((performance.now() - begun) / 1000);
  const cell = async (code) => {
    const before = performance.now();
    const { content } = await kernel.client.request("execute_request", { code, silent: false, store_history: true })
      .reply;
    if (content.status !== "ok") throw new Error(content.evalue);
    return (performance.now() - before) / 1000;
  };
  // a person takes longer than this to the first cell; the kernel reads the package meanwhile
  await new Promise((resolve) => setTimeout(resolve, pauseMs));
  seen.import.push(await cell(importing));
  for (const code of small) seen.cell.push(await cell(code));
  await cell(`const flat = form.flatness(readSurvey(${JSON.stringify(sheet)}));`);
  // the figure by itself, without the compiler: made and put into a message
  await cell(`function timed(): number[] {
  const [before, busy] = [performance.now(), process.cpuUsage()];
  const map = figure.residualMap(flat);
  JSON.stringify(Reflect.get(map, Symbol.for("Jupyter.display")).call(map));
  const { user, system } = process.cpuUsage(busy);
  return [(performance.now() - before) / 1000, (user + system) / 1e6];
}`);
  await cell("timed().join(' ')");
  const [clock, cpu] = bundle["text/plain"].split(" ").map(Number);
  seen.figure.push(clock);
  seen.figureCpu.push(cpu);
  await cell("figure.residualMap(flat)");
  seen.bytes.push(Buffer.byteLength(JSON.stringify(bundle)));
  await kernel.shutdown();
}

/** a sheet of an invented table: a bow, a dip, a ripple of tenths */
function mapOfPlaces(columns, rows) {
  const head = "# relative to: travel\n# front: y-\n# +x: right\n# +y: back\n# gauge resolution: 1 um";
  const lines = [head, "# gauge maximum permissible error: 4 um", "place,x/mm,y/mm,z/um,pass"];
  for (let pass = 1; pass <= 2; pass++) {
    for (let i = 0; i < columns; i++) {
      for (let j = 0; j < rows; j++) {
        const z =
          (i - 7) ** 2 / 4 - 9 * Math.exp(-((i - 4) ** 2 + (j - 2) ** 2) / 3) + ((7 * i + 5 * j + 3 * pass) % 9) / 10;
        lines.push(`P${i}-${j},${i * 40},${j * 40},${z.toFixed(1)},${pass}`);
      }
    }
  }
  return `${lines.join("\n")}\n`;
}

function middle(values) {
  const sorted = [...values].sort((a, b) => a - b);
  return (sorted[(sorted.length - 1) >> 1] + sorted[sorted.length >> 1]) / 2;
}

function report(id, figures, target, compared) {
  const met = figures[compared] <= target;
  console.log(JSON.stringify({ id, rounds, ...figures, target, met }));
  if (!met) process.exitCode = 1;
}
