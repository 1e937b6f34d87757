// `npm run bench [W1 …] [-- --short]`: one JSON line a measurement; ends with 1 where a result is not the expected one.
// --short checks the results and takes no times worth keeping; --growth takes processor time and memory over two decades of size.
import { faults, freshBuild, measure, workloads } from "./tasks.mjs";

const given = process.argv.slice(2);
const mode = given.includes("--short") ? "short" : "full";
const isGrowth = given.includes("--growth");
const chosen = await workloads(given.filter((word) => !word.startsWith("--")));
await freshBuild();
let [measured, wrong] = [0, 0];
if (isGrowth) growth();
else whole();

function growth() {
  for (const { file, task } of chosen.filter(({ task: { cold } }) => !cold)) {
    const top = task.sizes.at(-1);
    const sizes = task.growth ?? [top / 100, top / 10, top];
    // where a call takes long, two calls are enough to take the least of
    const lines = sizes.map((size) => measure(file, size, size >= (task.slowFrom ?? Infinity) ? "short" : "full"));
    console.log(JSON.stringify({ ...scaling(task, lines, "min_cpu_s"), peak_mb: lines.map((line) => line.rss_mb) }));
  }
}

function whole() {
  for (const { file, task } of chosen) {
    const lines = task.sizes.map((size) => measure(file, size, mode));
    measured += lines.length;
    for (const line of lines) {
      console.log(JSON.stringify(line));
      for (const fault of faults(task, line)) {
        wrong++;
        console.error(`${task.id} n = ${line.n}: ${fault}`);
      }
    }
    if (mode === "full" && lines.length > 1) console.log(JSON.stringify(scaling(task, lines)));
  }
  console.error(wrong === 0 ? `all ${measured} results as expected` : `wrong: ${wrong} figures in ${measured} results`);
  process.exitCode = wrong === 0 ? 0 : 1;
}

/** exponent of the time against the size: over the last two sizes, and from end to end */
function scaling(task, lines, time = "min_s") {
  const exponent = (a, b) => Number((Math.log(b[time] / a[time]) / Math.log(b.n / a.n)).toFixed(3));
  return {
    id: task.id,
    kind: "scaling",
    variant: task.variant,
    n: lines.map((line) => line.n),
    [time]: lines.map((line) => line[time]),
    exponent_last_two: exponent(lines.at(-2), lines.at(-1)),
    exponent_ends: exponent(lines[0], lines.at(-1)),
  };
}
