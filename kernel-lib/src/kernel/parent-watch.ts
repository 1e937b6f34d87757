import { isMainThread, Worker, workerData } from "node:worker_threads";

/** how often the parent is looked for */
const everyMs = 500;

/**
 * Ends this process when the one that started it is gone, so that no kernel is left behind by a front end that was
 * killed. It watches from a thread of its own, for a cell may be in an endless loop.
 */
export function endWithParent(): void {
  new Worker(__filename, { workerData: process.ppid }).unref();
}

if (!isMainThread) {
  setInterval(() => {
    if (process.ppid !== workerData) process.kill(process.pid, "SIGKILL");
  }, everyMs);
}
