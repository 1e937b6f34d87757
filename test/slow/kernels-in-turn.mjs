// Runs one small notebook again and again from this process, each time in a fresh kernel, and prints as one line of JSON
// what this process weighs after each run (collected first), what the kernels' processes and ports were, and what of
// them is left at the end. Started by load.test.ts as `node --expose-gc kernels-in-turn.mjs FOLDER COUNT`.
import { existsSync, readdirSync, readFileSync, readlinkSync } from "node:fs";
import { createRequire } from "node:module";
import { createServer } from "node:net";
import { join } from "node:path";

const { runNotebook } = createRequire(import.meta.url)("../../kernel-lib/dist/kernel/runner.js");
const [folder, count] = [process.argv[2], Number(process.argv[3])];
const outputFolder = join(folder, "kept");

const connectionFiles = () => readdirSync(outputFolder).filter((name) => /^kernel-.*\.json$/.test(name));

/** the ports of the kernel that runs now, from the file that tells its client */
function portsNow() {
  return connectionFiles().flatMap((name) =>
    Object.entries(JSON.parse(readFileSync(join(outputFolder, name), "utf8")))
      .filter(([key]) => key.endsWith("_port"))
      .map(([, port]) => port),
  );
}

function isFree(port) {
  return new Promise((resolve) => {
    const server = createServer();
    server.once("error", () => resolve(false));
    server.listen(port, "127.0.0.1", () => server.close(() => resolve(true)));
  });
}

/** whether this process or a kernel of it holds the port; the system may have given it to another program since */
function isOurs(port) {
  if (process.platform !== "linux") return true;
  const hex = port.toString(16).toUpperCase().padStart(4, "0");
  const held = readFileSync("/proc/net/tcp", "utf8")
    .split("\n")
    .map((line) => line.trim().split(/\s+/))
    .filter(([, local]) => local?.endsWith(`:${hex}`))
    .map((fields) => `socket:[${fields[9]}]`);
  return [process.pid, ...kernels.map(({ pid }) => pid)].some((pid) =>
    held.some((socket) => socketsOf(pid).has(socket)),
  );
}

function socketsOf(pid) {
  const folder = `/proc/${pid}/fd`;
  const links = existsSync(folder) ? readdirSync(folder) : [];
  return new Set(links.map((name) => linkOf(join(folder, name))));
}

function linkOf(path) {
  try {
    return readlinkSync(path);
  } catch {
    return "";
  }
}

const mb = (bytes) => Math.round(bytes / 1e5) / 10;

/** resident memory once nothing more is given back: the sockets of a run are let go of after its promise */
async function weighed() {
  for (let i = 0; i < 3; i++) {
    globalThis.gc();
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  const { rss, heapUsed } = process.memoryUsage();
  return { rss: mb(rss), heap: mb(heapUsed) };
}

const [rss, heap, kernels, busy] = [[], [], [], []];
for (let i = 0; i < count; i++) {
  const ports = [];
  const progress = () => ports.push(...portsNow());
  const { failure, notebook } = await runNotebook({ path: join(folder, "small.ipynb"), outputFolder, progress });
  if (failure !== undefined) throw new Error(failure);
  const pid = Number(notebook.cells[0].outputs[0].data["text/plain"]);
  kernels.push({ pid, ports: [...new Set(ports)] });
  const weight = await weighed();
  rss.push(weight.rss);
  heap.push(weight.heap);
}
for (const { ports } of kernels) for (const port of ports) if (!(await isFree(port)) && isOurs(port)) busy.push(port);
console.log(JSON.stringify({ rss, heap, kernels, busy, connectionFiles: connectionFiles() }));
