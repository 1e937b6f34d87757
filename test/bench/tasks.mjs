// What every bench command shares: the list of workloads, a measurement in its own process, the check of its result.
import { execFileSync } from "node:child_process";
import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build, isStale } from "../../kernel-lib/scripts/build.mjs";

const here = fileURLToPath(new URL(".", import.meta.url));

/** workloads by file, all of them or those whose ids are named */
export async function workloads(ids) {
  const files = readdirSync(new URL("workloads/", import.meta.url)).filter((file) => file.endsWith(".mjs"));
  const all = await Promise.all(
    files
      .sort()
      .map(async (file) => ({ file: file.slice(0, -4), task: (await import(`./workloads/${file}`)).default })),
  );
  const unknown = ids.filter((id) => !all.some(({ task }) => task.id === id));
  if (unknown.length > 0)
    throw new Error(`no workload ${unknown.join(", ")}; there are ${all.map(({ task }) => task.id).join(", ")}`);
  return ids.length === 0 ? all : all.filter(({ task }) => ids.includes(task.id));
}

/** builds the package where it is older than its source */
export async function freshBuild() {
  if (isStale()) await build();
}

/** one measurement of ours */
export function measure(file, size, mode) {
  return JSON.parse(
    execFileSync(process.execPath, [`${here}measure.mjs`, file, String(size), mode], { encoding: "utf8" }),
  );
}

/** what is wrong with a line's inputs or result; empty when both are as they must be */
export function faults(task, line) {
  const expected = task.expected.sizes[String(line.n)];
  if (expected === undefined) return [`no expected result for n = ${line.n}`];
  const found = line.checksum === expected.checksum ? [] : [`inputs ${line.checksum}, expected ${expected.checksum}`];
  for (const [name, printed] of Object.entries(expected.result)) {
    const error = Math.abs(line.result[name] / Number(printed) - 1);
    // one accuracy for all figures, or one for each by its name
    if (!(error <= (task.relative[name] ?? task.relative)))
      found.push(`${name} is ${line.result[name]}, expected ${printed}`);
  }
  for (const [name, most] of Object.entries(task.atMost ?? {})) {
    if (!(line.variant !== task.variant || line.result[name] <= most))
      found.push(`${name} is ${line.result[name]}, at most ${most}`);
  }
  return found;
}
