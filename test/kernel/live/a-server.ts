import { cpSync, mkdirSync, mkdtempSync, writeFileSync } from "node:fs";
import { request } from "node:http";
import { join } from "node:path";
import { WebSocket } from "ws";
import { LiveServer } from "../../../kernel-lib/src/kernel/live/live-server.js";
import { project as repository } from "../workplace.js";
import { FakeKernels } from "./fake-kernel.js";

/** A notebook as text, of code cells. */
export function notebookOf(...sources: readonly string[]): string {
  const cells = sources.map((source, i) => ({
    cell_type: "code",
    id: `cell-${i}`,
    metadata: {},
    source: [source],
    execution_count: null,
    outputs: [],
  }));
  return `${JSON.stringify({ cells, metadata: {}, nbformat: 4, nbformat_minor: 5 }, null, 1)}\n`;
}

/** A project with one notebook, an open and a closed sheet, and a stand-in for the built page. */
export function aProject(): { readonly project: string; readonly pageFolder: string } {
  const base = join(repository, "build", "test", "live");
  mkdirSync(base, { recursive: true });
  const project = mkdtempSync(join(base, "werkstatt ü-"));
  for (const folder of ["notebooks", "data", "page"]) mkdirSync(join(project, folder));
  writeFileSync(join(project, "notebooks/one.ipynb"), notebookOf("1 + 1"));
  writeFileSync(join(project, "data/open.csv"), "# title: open\nplace,x/mm,y/mm,z/um\nA1,0,0,\n");
  cpSync(join(repository, "data/table-before.csv"), join(project, "data/table-before.csv"));
  cpSync(join(repository, "data/checksums.csv"), join(project, "data/checksums.csv"));
  for (const name of ["list.js", "notebook.js", "notebook.css"])
    writeFileSync(join(project, "page", name), `/* ${name} */`);
  return { project, pageFolder: join(project, "page") };
}

export interface Reply {
  readonly status: number;
  readonly headers: { readonly [name: string]: string | readonly string[] | undefined };
  readonly text: string;
}

export interface Ask {
  readonly method?: string;
  readonly headers?: { readonly [name: string]: string };
  readonly body?: string | Buffer;
}

/** A server with kernels that are not real, and a browser that was let in. */
export class Bench {
  private cookie = "";

  private constructor(
    readonly server: LiveServer,
    readonly project: string,
    readonly kernels: FakeKernels,
  ) {}

  static async start(pingEveryMs?: number): Promise<Bench> {
    const { project, pageFolder } = aProject();
    const kernels = new FakeKernels();
    const bench = new Bench(
      await LiveServer.start({
        project,
        pageFolder,
        start: kernels.start,
        ...(pingEveryMs !== undefined && { pingEveryMs }),
      }),
      project,
      kernels,
    );
    const { headers } = await bench.raw(new URL(bench.server.address()).search.replace(/^/, "/"), {});
    bench.cookie = String(headers["set-cookie"]).split(";")[0] ?? "";
    return bench;
  }

  get origin(): string {
    return `http://127.0.0.1:${this.server.port}`;
  }

  /** headers of the browser that was let in, on our own page */
  get ours(): { readonly [name: string]: string } {
    return { cookie: this.cookie, origin: this.origin };
  }

  /** A request exactly as written: the path is not tidied up, no header is added but the host. */
  raw(path: string, { method = "GET", headers = {}, body }: Ask): Promise<Reply> {
    return new Promise((resolve, reject) => {
      const sent = request(
        { host: "127.0.0.1", port: this.server.port, path, method, headers, agent: false },
        (response) => {
          const chunks: Buffer[] = [];
          response.on("data", (chunk: Buffer) => chunks.push(chunk));
          response.on("end", () =>
            resolve({
              status: response.statusCode ?? 0,
              headers: response.headers,
              text: Buffer.concat(chunks).toString("utf8"),
            }),
          );
        },
      );
      sent.on("error", reject);
      sent.end(body);
    });
  }

  ask(path: string, ask: Ask = {}): Promise<Reply> {
    return this.raw(path, { ...ask, headers: { ...this.ours, ...ask.headers } });
  }

  /** status and the sentence of a refusal, or of what else came */
  async refusal(path: string, ask: Ask = {}): Promise<readonly [status: number, sentence: string]> {
    const { status, text } = await this.ask(path, ask);
    return [status, said(text)];
  }

  async json<T>(path: string, method = "GET", body?: unknown): Promise<T> {
    const { text } = await this.ask(path, { method, ...(body !== undefined && { body: JSON.stringify(body) }) });
    return (text === "" ? undefined : JSON.parse(text)) as T;
  }

  socket(path: string, protocols: readonly string[] = [], headers = this.ours): WebSocket {
    return new WebSocket(`${this.origin.replace("http", "ws")}${path}`, [...protocols], { headers });
  }
}

export function said(text: string): string {
  try {
    return String((JSON.parse(text) as { readonly message?: unknown }).message);
  } catch {
    return text;
  }
}
