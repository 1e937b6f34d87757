import { isMainThread, Worker, workerData } from "node:worker_threads";
import { parentVariable } from "./parent-variable.js";

/** how often the parent is looked for */
const everyMs = 500;

/**
 * Ends this process when the one that started it is gone, so that no kernel is left behind by a front end that was
 * killed. It watches from a thread of its own, for a cell may be in an endless loop.
 *
 * Where our own code started it, that says which process it is: it may be gone before this one can look.
 */
export function endWithParent(): void {
  const told = Number(process.env[parentVariable]);
  // not for what a cell starts
  delete process.env[parentVariable];
  new Worker(__filename, { workerData: told > 0 ? told : process.ppid }).unref();
}

if (!isMainThread) {
  setInterval(() => {
    if (process.ppid !== workerData) process.kill(process.pid, "SIGKILL");
  }, everyMs);
}
