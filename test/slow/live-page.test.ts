import { type ChildProcess, spawn } from "node:child_process";
import { existsSync, mkdirSync, readdirSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { join } from "node:path";
import { afterEach, beforeAll, expect, it } from "vitest";
import { WebSocket } from "ws";
import { binaryFraming, binaryProtocol } from "../../kernel-lib/src/kernel/live/framing.js";
import { header } from "../../kernel-lib/src/kernel/wire.js";
import { alive, bin, built, scratch } from "../kernel/workplace.js";

beforeAll(built);

const running: ChildProcess[] = [];
afterEach(() => {
  for (const child of running.splice(0)) child.kill("SIGKILL");
});

function aProject(): string {
  const folder = scratch();
  for (const name of ["notebooks", "data"]) mkdirSync(join(folder, name));
  writeFileSync(join(folder, "notebooks/one.ipynb"), '{"cells":[],"metadata":{},"nbformat":4,"nbformat_minor":5}');
  return folder;
}

/** all that processes have printed so far, and who waits for more of it */
const heard = new WeakMap<ChildProcess, { text: string; code?: number | null; readonly told: Set<() => void> }>();

/** Starts a process and hears what it prints from its first word on. */
function begin(folder: string, args: readonly string[], env = process.env): ChildProcess {
  const child = spawn(process.execPath, args, { cwd: folder, env });
  running.push(child);
  const of: { text: string; code?: number | null; readonly told: Set<() => void> } = { text: "", told: new Set() };
  heard.set(child, of);
  const tell = (): void => {
    for (const look of of.told) look();
  };
  for (const output of [child.stdout, child.stderr]) {
    output.on("data", (chunk: Buffer) => {
      of.text += chunk;
      tell();
    });
  }
  child.once("close", (code) => {
    of.code = code;
    tell();
  });
  return child;
}

/** what a process has printed or prints, once a sign of life in it is found; a word counts when what follows it is there */
function printed(child: ChildProcess, wanted: RegExp): Promise<string> {
  return heardOf(child, ({ text, code }) => {
    const found = wanted.exec(text);
    if (found && (code !== undefined || found.index + found[0].length < text.length || found[0].endsWith("\n")))
      return found[0];
    if (code !== undefined) throw new Error(`${wanted} was not printed, but ${text}`);
    return undefined;
  });
}

const ended = (child: ChildProcess): Promise<number | null> => heardOf(child, ({ code }) => code);

function heardOf<T>(
  child: ChildProcess,
  find: (of: { text: string; code?: number | null }) => T | undefined,
): Promise<T> {
  const of = heard.get(child)!;
  return new Promise((resolve, reject) => {
    const look = (): void => {
      try {
        const found = find(of);
        if (found === undefined) return;
        resolve(found);
      } catch (error) {
        reject(error);
      }
      of.told.delete(look);
    };
    of.told.add(look);
    look();
  });
}

const start = (folder: string, ...args: readonly string[]): ChildProcess =>
  begin(folder, [bin, "open", "--no-browser", ...args]);

async function until(condition: () => boolean, seconds = 60): Promise<boolean> {
  for (const end = performance.now() + seconds * 1000; performance.now() < end && !condition(); )
    await new Promise((resolve) => setTimeout(resolve, 50));
  return condition();
}

interface Heard {
  readonly type: string;
  readonly parent: string;
  readonly content: { readonly [key: string]: unknown };
}

/** A browser's part: let in by the address, one notebook open, one websocket in the binary framing. */
class Page {
  readonly heard: Heard[] = [];

  private constructor(
    readonly origin: string,
    readonly headers: { readonly cookie: string; readonly origin: string },
    readonly kernel: string,
    private readonly socket: WebSocket,
  ) {
    socket.on("message", (data: Buffer) => this.hear(data));
  }

  static async open(address: string): Promise<Page> {
    const { origin } = new URL(address);
    const entry = await fetch(address, { redirect: "manual" });
    const headers = { cookie: entry.headers.get("set-cookie")?.split(";")[0] ?? "", origin };
    const body = JSON.stringify({
      path: "notebooks/one.ipynb",
      type: "notebook",
      name: "",
      kernel: { name: "dialbook" },
    });
    const session = await fetch(`${origin}/api/sessions`, { method: "POST", headers, body });
    const { kernel } = (await session.json()) as { readonly kernel: { readonly id: string } };
    const url = `${origin.replace("http", "ws")}/api/kernels/${kernel.id}/channels?session_id=page`;
    const socket = new WebSocket(url, [binaryProtocol], { headers });
    await new Promise((resolve, reject) => socket.once("open", resolve).once("error", reject));
    return new Page(origin, headers, kernel.id, socket);
  }

  /** Sends a cell. @returns its message's id */
  send(code: string): string {
    const head = header("execute_request", "page", "");
    const content = { code, silent: false, store_history: true, allow_stdin: false, stop_on_error: true };
    const message = { identities: [], header: head, parent: {}, metadata: { cellId: "one" }, content };
    this.socket.send(binaryFraming.encode({ channel: "shell", message }) as Buffer);
    return head.msg_id;
  }

  /** Runs a cell to its end. */
  async run(code: string): Promise<readonly Heard[]> {
    const id = this.send(code);
    const of = (): Heard[] => this.heard.filter(({ parent }) => parent === id);
    const isDone = (): boolean =>
      of().some(({ type }) => type === "execute_reply") &&
      of().some(({ content }) => content.execution_state === "idle");
    expect(await until(isDone)).toBe(true);
    return of();
  }

  async value(code: string): Promise<string> {
    const shown = (await this.run(code)).find(({ type }) => type === "execute_result");
    return String((shown?.content.data as { readonly [mime: string]: unknown } | undefined)?.["text/plain"]);
  }

  async post(path: string): Promise<number> {
    return (await fetch(`${this.origin}/api/kernels/${this.kernel}/${path}`, { method: "POST", headers: this.headers }))
      .status;
  }

  private hear(data: Buffer): void {
    const count = Number(data.readBigUInt64LE(0));
    const offsets = Array.from({ length: count }, (_, i) => Number(data.readBigUInt64LE(8 * (i + 1))));
    const [, head, parent, , content] = offsets
      .slice(0, -1)
      .map((from, i) => data.subarray(from, offsets[i + 1]).toString())
      .map((part, i) => (i === 0 ? {} : (JSON.parse(part) as { readonly [key: string]: unknown })));
    this.heard.push({ type: String(head?.msg_type), parent: String(parent?.msg_id), content: content ?? {} });
  }
}

it("runs cells in a kernel of its own, interrupts, survives its death, and leaves nothing behind", async () => {
  const folder = aProject();
  const server = start(folder);
  const page = await Page.open(await printed(server, /http:\S+/));
  expect(await page.value("6 * 7")).toBe("42");
  expect(await page.value("process.cwd()")).toContain("notebooks");

  const loop = page.send("while (true) {}");
  expect(await until(() => page.heard.some(({ type, parent }) => type === "execute_input" && parent === loop))).toBe(
    true,
  );
  await new Promise((resolve) => setTimeout(resolve, 500));
  expect(await page.post("interrupt")).toBe(204);
  expect(await until(() => page.heard.some(({ type, parent }) => type === "execute_reply" && parent === loop))).toBe(
    true,
  );
  const [reply] = page.heard.filter(({ type, parent }) => type === "execute_reply" && parent === loop);
  expect(reply?.content.status).toBe("error");
  expect(await page.value("6 * 7")).toBe("42");

  const killed = await page.run("process.kill(process.pid, 'SIGKILL'); await new Promise(() => undefined);");
  expect(killed.find(({ type }) => type === "error")?.content.evalue).toBe(
    "the kernel was ended by SIGKILL while this cell ran; what earlier cells had made is gone: run them again",
  );
  expect(await until(() => page.heard.some(({ content }) => content.execution_state === "dead"))).toBe(true);
  expect(await page.post("restart")).toBe(200);
  expect(await page.value("1 + 1")).toBe("2");

  const kernel = Number(await page.value("process.pid"));
  page.send("while (true) {}");
  server.kill("SIGINT");
  expect(await ended(server)).toBe(0);
  expect(await until(() => !alive(kernel))).toBe(true);
  expect(readdirSync(join(folder, "build/live"))).toEqual([]);
});

it.each(["SIGTERM", "SIGHUP"] as const)("ends its kernels when it is ended by %s", async (signal) => {
  const server = start(aProject());
  const page = await Page.open(await printed(server, /http:\S+/));
  const kernel = Number(await page.value("process.pid"));
  server.kill(signal);
  expect(await ended(server)).toBe(0);
  expect(await until(() => !alive(kernel))).toBe(true);
});

it.each(["the page", "whoever started it"])("leaves no kernel behind when %s is killed", async (who) => {
  const folder = aProject();
  const script = `const { spawn } = require("node:child_process");
    const server = spawn(process.execPath, ${JSON.stringify([bin, "open", "--no-browser"])}, { stdio: ["ignore", "pipe", "ignore"] });
    server.stdout.on("data", (text) => process.stdout.write("server " + server.pid + " " + text)); setInterval(() => undefined, 1000);`;
  const parent = begin(folder, ["-e", script]);
  const text = await printed(parent, /server \d+ [\s\S]*http:\S+/);
  const server = Number(/server (\d+)/.exec(text)?.[1]);
  const page = await Page.open(/http:\S+/.exec(text)?.[0] ?? "");
  const kernel = Number(await page.value("process.pid"));
  if (who === "the page") process.kill(server, "SIGKILL");
  else parent.kill("SIGKILL");
  expect(await until(() => !alive(server) && !alive(kernel))).toBe(true);
});

it("says that no browser could be opened, and stays open", async () => {
  const child = begin(aProject(), [bin, "open"], { ...process.env, PATH: "" });
  // each system has its own program for it
  const line = await printed(child, /dialbook open: .*\n/);
  expect(line.replace(/: \S+ can't be started \(.*\);/, ": xdg-open can't be started;")).toBe(
    "dialbook open: no browser was opened here: xdg-open can't be started; open the address above in one\n",
  );
  expect(alive(child.pid ?? 0)).toBe(true);
  child.kill("SIGTERM");
  expect(await ended(child)).toBe(0);
});

it("tells of a port in use, of another page of the same notebooks, and takes away what a killed one left", async () => {
  const folder = aProject();
  const taken = createServer();
  await new Promise<void>((resolve) => taken.listen(0, "127.0.0.1", resolve));
  const { port } = taken.address() as { readonly port: number };
  const refused = start(folder, "--port", String(port));
  expect(await printed(refused, /.*\n/)).toBe(
    `dialbook open: port ${port} is in use by another program; give another, like --port ${port + 1}, or leave --port out for a free one\n`,
  );
  expect(await ended(refused)).toBe(1);
  taken.close();

  const first = start(folder);
  const { port: firstPort } = new URL(await printed(first, /http:\S+/));
  const second = start(folder);
  expect(await printed(second, /dialbook open: .*\n/)).toBe(
    `dialbook open: these notebooks are open already at http://127.0.0.1:${firstPort}/ (process ${first.pid}); whoever saves second is told, nothing is lost\n`,
  );
  await printed(second, /http:\S+token\S+/);
  first.kill("SIGKILL");
  second.kill("SIGKILL");
  await Promise.all([first, second].map(ended));
  const third = start(folder);
  await printed(third, /http:\S+token\S+/);
  expect(readdirSync(join(folder, "build/live")).map((name) => name.split("-")[0])).toEqual([String(third.pid)]);
  expect(existsSync(join(folder, "build/live"))).toBe(true);
});
