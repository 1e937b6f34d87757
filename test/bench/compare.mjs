// `npm run bench:compare [W1 …] [-- --rounds N] [-- --cpu]`: ours and the Python counterpart in turn, in one session; prints the
// ratio of the least times. Every way of running the counterpart counts (one thread or all, freed memory kept or given back):
// its quickest. --cpu compares processor time, of one thread each, for a machine on which others work too.
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { faults, freshBuild, measure, workloads } from "./tasks.mjs";

const python = process.env.BENCH_PYTHON ?? "/usr/bin/python3";
const probe = spawnSync(python, ["-c", "import numpy; print(numpy.__version__)"], { encoding: "utf8" });
if (probe.status !== 0) {
  const why = probe.error?.message ?? probe.stderr.trim().split("\n").at(-1);
  console.log(`no comparison: ${python} cannot load numpy (${why}); name another with BENCH_PYTHON`);
  process.exit(0);
}
const given = process.argv.slice(2);
const byProcessor = given.includes("--cpu");
const rounds = given.includes("--rounds") ? Number(given[given.indexOf("--rounds") + 1]) : 3;
if (!(rounds >= 1)) throw new Error(`--rounds ${rounds}; give a whole number above 0`);
const chosen = await workloads(given.filter((word) => /^W\d+$/.test(word)));
await freshBuild();
const keep = { MALLOC_MMAP_MAX_: "0", MALLOC_TRIM_THRESHOLD_: "17179869184", MALLOC_TOP_PAD_: "67108864" };
const one = { OPENBLAS_NUM_THREADS: "1", OMP_NUM_THREADS: "1" };
const ways = byProcessor ? [one, { ...keep, ...one }] : [{}, one, keep, { ...keep, ...one }];
let wrong = 0;
console.log(
  `numpy ${probe.stdout.trim()} through ${python}, Node ${process.version}; least ${byProcessor ? "processor " : ""}time of ${rounds} round(s) in turn`,
);
for (const { file, task } of chosen) {
  for (const size of task.sizes) {
    const [ours, theirs] = [[], []];
    for (let round = 0; round < rounds; round++) {
      ours.push(timeOf(task, checked(task, measure(file, size, "full"))));
      for (const way of ways) {
        const line = counterpart(task, size, way);
        if (line !== undefined) theirs.push(timeOf(task, checked(task, line)));
      }
    }
    console.log(`${task.id} ${task.variant}, n = ${size}: ${verdict(task, Math.min(...ours), theirs)}`);
  }
}
process.exitCode = wrong === 0 ? 0 : 1;

/** what it took; a notebook runs in processes of its own, of which only the clock tells */
function timeOf(task, line) {
  return byProcessor && !task.cold ? line.min_cpu_s : line.min_s;
}

function verdict({ against }, ours, theirs) {
  if (theirs.length === 0) return `${ms(ours)}, no comparison: a package of ${against.python} is missing`;
  const least = Math.min(...theirs);
  return `${ms(ours)} against ${against.variant} ${ms(least)}, ratio ${(ours / least).toFixed(2)} (target ${against.ratio})`;
}

/** a line of the counterpart; nothing where a package that it needs is not there */
function counterpart(task, size, way) {
  const script = fileURLToPath(new URL(`python/${task.against.python}`, import.meta.url));
  const run = spawnSync(python, [script, String(size)], {
    encoding: "utf8",
    env: { ...process.env, PYTHONDONTWRITEBYTECODE: "1", ...way },
  });
  if (run.stderr.includes("ModuleNotFoundError")) return undefined;
  if (run.status !== 0) throw new Error(`${task.against.python} stopped: ${run.stderr}`);
  return JSON.parse(run.stdout);
}

function checked(task, line) {
  for (const fault of faults(task, line)) {
    wrong++;
    console.error(`${task.id} n = ${line.n}, ${line.variant}: ${fault}`);
  }
  return line;
}

function ms(seconds) {
  return `${(seconds * 1000).toPrecision(3)} ms`;
}
