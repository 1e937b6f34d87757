import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { existsSync } from "node:fs";
import { createServer } from "node:net";
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
    const port = await freePort();
    const settings = ["--no-browser", "--ip=127.0.0.1", `--port=${port}`, "--port-retries=0", "--NotebookApp.token="];
    const args = [...settings, "--NotebookApp.password=", "--allow-root", `--notebook-dir=${folder}`];
    const child = spawn(program, args, { env, stdio: "ignore" });
    const address = `http://127.0.0.1:${port}`;
    for (const end = performance.now() + 60_000; performance.now() < end; ) {
      if (
        await fetch(`${address}/api`)
          .then(({ ok }) => ok)
          .catch(() => false)
      )
        return new NotebookServer(child, address);
      await new Promise((resolve) => setTimeout(resolve, 200));
    }
    child.kill("SIGKILL");
    throw new Error("the notebook server did not answer within a minute");
  }

  async close(): Promise<void> {
    const gone = new Promise((resolve) => this.child.once("close", resolve));
    this.child.kill("SIGTERM");
    await gone;
  }
}

async function freePort(): Promise<number> {
  const server = createServer();
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const place = server.address();
  await new Promise((resolve) => server.close(resolve));
  return typeof place === "object" && place !== null ? place.port : 0;
}
