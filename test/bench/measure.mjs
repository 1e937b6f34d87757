// One measurement, in a process of its own: `node measure.mjs <workload> <size> <short|full>` prints one JSON line.
import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";

const [, , workload, size, mode] = process.argv;
const require = createRequire(import.meta.url);
const started = memory("VmRSS");
const task = (await import(`./workloads/${workload}.mjs`)).default;
// the folders of the package that the workload calls
const product = Object.fromEntries(
  (task.uses ?? ["numerics"]).map((folder) => [folder, require(`../../kernel-lib/dist/${folder}/index.js`)]),
);
const afterImport = memory("VmRSS");
const { inputs, checksum } = task.make(Number(size));
const afterInputs = memory("VmRSS");
resetPeak();

const full = mode === "full";
let outcome;
let leastProcessor = Number.POSITIVE_INFINITY;
const once = async () => {
  const cpu = process.cpuUsage();
  const before = performance.now();
  const found = task.run(inputs, product);
  outcome = found instanceof Promise ? await found : found;
  const seconds = (performance.now() - before) / 1000;
  const { user, system } = process.cpuUsage(cpu);
  leastProcessor = Math.min(leastProcessor, (user + system) / 1e6);
  return seconds;
};
const first = await once();
const warm = performance.now();
// a call that starts a process of its own finds nothing warmer the next time
for (let call = 1; full && !task.cold && (call < 5 || performance.now() - warm < 500); call++) await once();
const times = [];
const begun = performance.now();
while (times.length < (full ? 5 : 1) || (full && times.length < 40 && performance.now() - begun < 2000))
  times.push(await once());
const sorted = [...times].sort((a, b) => a - b);
const per = task.per?.(Number(size)) ?? 1;
const line = {
  id: task.id,
  variant: task.variant,
  against: task.against.variant,
  n: Number(size),
  threads: "1",
  median_s: (sorted[(sorted.length - 1) >> 1] + sorted[sorted.length >> 1]) / 2,
  min_s: sorted[0],
  min_cpu_s: leastProcessor,
  first_s: first,
  reps: times.length,
  rss_mb: memory("VmHWM"),
  rss_before_import_mb: started,
  rss_after_import_mb: afterImport,
  rss_after_inputs_mb: afterInputs,
  per,
  ...(per > 1 ? { min_us_per_item: (sorted[0] / per) * 1e6 } : {}),
  result: task.result(outcome),
  checksum,
};
console.log(JSON.stringify(line));

/** a line of the kernel's memory figures in MB; null where the system does not give them */
function memory(key) {
  try {
    const found = new RegExp(`${key}:\\s+(\\d+)`).exec(readFileSync("/proc/self/status", "utf8"));
    return found ? Math.round(Number(found[1]) / 102.4) / 10 : null;
  } catch {
    return null;
  }
}

function resetPeak() {
  try {
    writeFileSync("/proc/self/clear_refs", "5");
  } catch {
    // not Linux, or not allowed: the peak then counts from the start of the process
  }
}
