import { KernelProcess } from "../kernel-process.js";
import type { StartKernel } from "./live-kernel.js";

/** Starts kernels of ours as processes; their connection files lie in this server's own folder. */
export function startProcess(scratch: string): StartKernel {
  return async (folder, hooks, signal) => {
    const kernel = await KernelProcess.start({
      folder,
      scratch,
      username: "dialbook page",
      strictSheets: false,
      signal,
      ...hooks,
    });
    return {
      pass: (channel, message) => kernel.client.pass(channel, message),
      interrupt: () => kernel.interrupt(),
      shutdown: () => kernel.shutdown(),
    };
  };
}
