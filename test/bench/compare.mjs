// `npm run bench:compare [W1 …]`: ours and the Python counterpart in turn, in one session; prints the ratio of the least
// times. Every way of running the counterpart counts (one thread or all, freed memory kept or given back): its quickest.
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
const chosen = await workloads(process.argv.slice(2));
await freshBuild();
const keep = { MALLOC_MMAP_MAX_: "0", MALLOC_TRIM_THRESHOLD_: "17179869184", MALLOC_TOP_PAD_: "67108864" };
const one = { OPENBLAS_NUM_THREADS: "1", OMP_NUM_THREADS: "1" };
const ways = [{}, one, keep, { ...keep, ...one }];
const rounds = 3;
let wrong = 0;
console.log(
  `numpy ${probe.stdout.trim()} through ${python}, Node ${process.version}; least time of ${rounds} rounds in turn`,
);
for (const { file, task } of chosen) {
  for (const size of task.sizes) {
    const [ours, theirs] = [[], []];
    for (let round = 0; round < rounds; round++) {
      ours.push(checked(task, measure(file, size, "full")).min_s);
      for (const way of ways) theirs.push(checked(task, counterpart(task, size, way)).min_s);
    }
    const [a, b] = [Math.min(...ours), Math.min(...theirs)];
    const ratio = a / b;
    console.log(
      `${task.id} ${task.variant}, n = ${size}: ${ms(a)} against ${task.against.variant} ${ms(b)}, ratio ${ratio.toFixed(2)} (target ${task.against.ratio})`,
    );
  }
}
process.exitCode = wrong === 0 ? 0 : 1;

function counterpart(task, size, way) {
  const script = fileURLToPath(new URL(`python/${task.against.python}`, import.meta.url));
  const run = spawnSync(python, [script, String(size)], {
    encoding: "utf8",
    env: { ...process.env, PYTHONDONTWRITEBYTECODE: "1", ...way },
  });
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
