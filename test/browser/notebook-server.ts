import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { bin } from "../kernel/workplace.js";

const program = process.env.JUPYTER_NOTEBOOK ?? "/usr/bin/jupyter-notebook";

/** False, with the reason printed, where there is no notebook server; on the build server that is a failure. */
export function serverIsThere(): boolean {
  if (existsSync(program)) return true;
  const reason = `no ${program}; install the classic Notebook or set JUPYTER_NOTEBOOK to its path`;
  if (process.env.CI === "true") throw new Error(reason);
  console.warn(`skipped: ${reason}`);
  return false;
}

/** A classic Notebook server that knows our kernel and keeps all it writes in one folder. */
export class NotebookServer {
  private constructor(
    private readonly child: ChildProcess,
    readonly address: string,
  ) {}

  /** @param folder the folder it serves @param scratch where it keeps its own files */
  static async start(folder: string, scratch: string): Promise<NotebookServer> {
    const own = { JUPYTER_DATA_DIR: join(scratch, "data"), JUPYTER_CONFIG_DIR: join(scratch, "config") };
    const env = { ...process.env, ...own, JUPYTER_RUNTIME_DIR: join(scratch, "runtime"), IPYTHONDIR: scratch };
    spawnSync(process.execPath, [bin, "kernel", "add"], { env });
    // another program may take a port between two looks at it: the server finds one, and tells which
    const settings = ["--no-browser", "--ip=127.0.0.1", "--port-retries=100", "--NotebookApp.token="];
    const args = [...settings, "--NotebookApp.password=", "--allow-root", `--notebook-dir=${folder}`];
    const child = spawn(program, args, { env, stdio: "ignore" });
    const told = join(scratch, "runtime", `nbserver-${child.pid}.json`);
    for (const end = performance.now() + 120_000; performance.now() < end && child.exitCode === null; ) {
      const address = addressIn(told);
      const answer = address === undefined ? undefined : await fetch(`${address}/api`).catch(() => undefined);
      if (address !== undefined && answer?.ok) return new NotebookServer(child, address);
      await new Promise((resolve) => setTimeout(resolve, 200));
    }
    child.kill("SIGKILL");
    throw new Error(`the notebook server did not answer within two minutes (exit code ${child.exitCode})`);
  }

  async close(): Promise<void> {
    if (this.child.exitCode !== null) return;
    const gone = new Promise((resolve) => this.child.once("close", resolve));
    this.child.kill("SIGTERM");
    await gone;
  }
}

/** where the server listens, once it has written that down whole */
function addressIn(file: string): string | undefined {
  try {
    return `http://127.0.0.1:${(JSON.parse(readFileSync(file, "utf8")) as { readonly port: number }).port}`;
  } catch {
    return undefined;
  }
}
