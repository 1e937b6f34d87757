import { execFileSync } from "node:child_process";
import { randomUUID } from "node:crypto";
import { existsSync, mkdirSync, mkdtempSync, writeFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { KernelProcess } from "../../kernel-lib/src/kernel/kernel-process.js";
import type { Message } from "../../kernel-lib/src/kernel/wire.js";

export const project = resolve(import.meta.dirname, "../..");
export const bin = join(project, "kernel-lib/bin/dialbook.js");

/** Builds the package where that is due: a kernel is a process of its own and runs what was built. */
export function built(): void {
  execFileSync(process.execPath, [bin, "--version"], { stdio: "pipe" });
}

/** A fresh folder under build/, with a space and a letter beyond ASCII in its name. */
export function scratch(): string {
  const base = join(project, "build", "test", "kernel");
  mkdirSync(base, { recursive: true });
  return mkdtempSync(join(base, "größe 1-"));
}

/** true while a process of this number runs */
export function alive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

/** Writes a notebook of code cells; a cell that begins with "# " is a heading. */
export function notebook(path: string, sources: readonly string[], tags: readonly string[] = []): string {
  const cells = sources.map((source, index) =>
    source.startsWith("# ")
      ? { cell_type: "markdown", id: `cell-${index}`, metadata: {}, source }
      : { cell_type: "code", id: `cell-${index}`, metadata: { tags }, source, execution_count: null, outputs: [] },
  );
  writeFileSync(path, JSON.stringify({ cells, metadata: {}, nbformat: 4, nbformat_minor: 5 }));
  return path;
}

/** A cell that does not end, and a word when it has begun to run: until then a kernel still compiles it. */
export function endlessLoop(folder: string): { readonly code: string; readonly begun: () => Promise<void> } {
  const file = join(folder, `begun-${randomUUID()}`);
  const code = `require("node:fs").writeFileSync(${JSON.stringify(file)}, ""); while (true) {}`;
  const begun = async (): Promise<void> => {
    while (!existsSync(file)) await new Promise((resolve) => setTimeout(resolve, 20));
  };
  return { code, begun };
}

/** What one cell did: its reply, and what was published for it, in order, without its status and its own source. */
export interface Answer {
  readonly reply: Message["content"];
  readonly published: readonly { readonly type: string; readonly content: Message["content"] }[];
}

/** A kernel with a way to run a cell and see everything it shows. */
export class Bench {
  private constructor(
    readonly kernel: KernelProcess,
    /** everything published, in order */
    readonly heard: readonly Message[],
  ) {}

  /** @param username a name of a person's front end; left out, the kernel is spoken to as by a run without a page */
  static async start(username?: string, folder = scratch()): Promise<Bench> {
    const heard: Message[] = [];
    const options = { folder, scratch: folder, published: (message: Message) => heard.push(message) };
    const kernel = await KernelProcess.start({ ...options, ...(username !== undefined && { username }) });
    return new Bench(kernel, heard);
  }

  async run(code: string, more: { readonly [key: string]: unknown } = {}): Promise<Answer> {
    const { id, reply } = this.send(code, more);
    const { content } = await reply;
    return { reply: content, published: this.of(id) };
  }

  send(code: string, more: { readonly [key: string]: unknown } = {}) {
    return this.kernel.client.request("execute_request", { code, silent: false, store_history: true, ...more });
  }

  of(id: string): Answer["published"] {
    return this.heard
      .filter((message) => message.parent.msg_id === id)
      .map((message) => ({ type: message.header.msg_type, content: message.content }))
      .filter(({ type }) => type !== "status" && type !== "execute_input");
  }
}
