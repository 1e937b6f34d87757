import { readdirSync, readFileSync } from "node:fs";

/** what `sysconf(_SC_CLK_TCK)` says on Linux: the clock of /proc counts in hundredths of a second */
const tickMs = 10;

/** the fields of /proc/PID/stat from the state on: [0] the state, [1] the parent, [11] and [12] the time of the processor */
function statOf(pid: string): readonly string[] {
  try {
    const text = readFileSync(`/proc/${pid}/stat`, "utf8");
    return text.slice(text.lastIndexOf(")") + 2).split(" ");
  } catch {
    return [];
  }
}

/**
 * Tells the time of the processor, in ms, of the one kernel that this process runs when it is first asked: what a cell
 * costs, whatever else the machine does. Where a system does not tell that of another process, the time of day.
 */
export function kernelClock(): () => number {
  let kernel: string | undefined;
  return () => {
    if (process.platform !== "linux") return performance.now();
    kernel ??= readdirSync("/proc").find(
      (pid) =>
        statOf(pid)[1] === String(process.pid) &&
        readFileSync(`/proc/${pid}/cmdline`, "utf8").includes("kernel\0serve"),
    );
    const stat = kernel === undefined ? [] : statOf(kernel);
    return tickMs * (Number(stat[11] ?? 0) + Number(stat[12] ?? 0));
  };
}
