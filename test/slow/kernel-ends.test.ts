import { spawn, spawnSync } from "node:child_process";
import { mkdirSync, writeFileSync } from "node:fs";
import { type AddressInfo, createServer } from "node:net";
import { join } from "node:path";
import { beforeAll, expect, it } from "vitest";
import { KernelClient } from "../../kernel-lib/src/kernel/client.js";
import { writeConnection } from "../../kernel-lib/src/kernel/connection-file.js";
import { alive, bin, built, endlessLoop, notebook, scratch } from "../kernel/workplace.js";

beforeAll(built);

async function goneWithin(pid: number, ms: number): Promise<boolean> {
  for (const end = performance.now() + ms; performance.now() < end; ) {
    if (!alive(pid)) return true;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  return !alive(pid);
}

it("ends when whoever started it is killed, even in an endless loop", async () => {
  const folder = scratch();
  const { path, connection } = await writeConnection(folder);
  const script = `const { spawn } = require("node:child_process");
    const kernel = spawn(process.execPath, ${JSON.stringify([bin, "kernel", "serve", path])}, { stdio: "ignore" });
    console.log(kernel.pid); setInterval(() => undefined, 1000);`;
  const parent = spawn(process.execPath, ["-e", script], { cwd: folder, stdio: ["ignore", "pipe", "inherit"] });
  const pid = Number(
    await new Promise<string>((resolve) => parent.stdout.once("data", (text) => resolve(String(text)))),
  );
  const client = new KernelClient(connection, () => undefined);
  await client.ready();
  const loop = endlessLoop(folder);
  client.request("execute_request", { code: loop.code }).reply.catch(() => undefined);
  await loop.begun();
  expect(alive(pid)).toBe(true);
  parent.kill("SIGKILL");
  expect(await goneWithin(pid, 30_000)).toBe(true);
  client.close();
});

it("ends when whoever started it was gone before it could look", async () => {
  const folder = scratch();
  const { path } = await writeConnection(folder);
  const gone = spawn(process.execPath, ["-e", ""]);
  await new Promise((resolve) => gone.once("close", resolve));
  const env = { ...process.env, DIALBOOK_PARENT: String(gone.pid) };
  const kernel = spawn(process.execPath, [bin, "kernel", "serve", path], { cwd: folder, env, stdio: "ignore" });
  expect(await new Promise((resolve) => kernel.once("close", (_, signal) => resolve(signal)))).toBe("SIGKILL");
});

it("ends by itself where a port was taken meanwhile, and says so", async () => {
  const folder = scratch();
  const other = createServer();
  await new Promise<void>((resolve) => other.listen(0, "127.0.0.1", resolve));
  const { port } = other.address() as AddressInfo;
  const { path, connection } = await writeConnection(folder);
  writeFileSync(path, JSON.stringify({ ...connection, control_port: port }));
  const { status, stderr } = spawnSync(process.execPath, [bin, "kernel", "serve", path], {
    cwd: folder,
    encoding: "utf8",
    timeout: 240_000,
  });
  other.close();
  expect([status, stderr]).toEqual([
    1,
    `dialbook kernel: the address tcp://127.0.0.1:${port} is in use by another program; start the kernel once more, fresh ports are picked then\n`,
  ]);
});

it("is started once more where its ports were taken meanwhile, and the run comes to its end", () => {
  const folder = scratch();
  mkdirSync(join(folder, "notebooks"));
  notebook(join(folder, "notebooks", "01-busy.ipynb"), ["1 + 1"]);
  const taken = join(import.meta.dirname, "ports-taken.cjs");
  const { status, signal, stdout, stderr } = spawnSync(process.execPath, ["-r", taken, bin, "run"], {
    cwd: folder,
    encoding: "utf8",
    timeout: 240_000,
  });
  expect([status, signal, stderr]).toEqual([0, null, ""]);
  expect(stdout).toContain("01-busy  done");
});
