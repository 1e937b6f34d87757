import { randomUUID } from "node:crypto";
import { realpathSync, rmSync } from "node:fs";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import type { Duplex } from "node:stream";
import { MeasurementError } from "../../measurement-error.js";
import { assetRoutes } from "./assets.js";
import { bodyOf, jsonOf } from "./body.js";
import { Channels } from "./channels.js";
import { contentsRoutes } from "./contents-routes.js";
import { dialbookRoutes } from "./dialbook-routes.js";
import { fileRoutes } from "./file-routes.js";
import { Gate } from "./gate.js";
import { kernelRoutes } from "./kernel-routes.js";
import { LiveKernels } from "./kernels.js";
import { addressOf, listening } from "./listening.js";
import type { LiveContext } from "./live-context.js";
import type { StartKernel } from "./live-kernel.js";
import { ownFolder } from "./neighbours.js";
import { pageHeaders } from "./policy.js";
import { quietRoutes } from "./quiet-routes.js";
import { statusOf } from "./refused.js";
import { type Answer, type Route, routeFor } from "./route.js";
import { sheetRoutes } from "./sheet-routes.js";
import { sentencePage, shellRoutes } from "./shell-page.js";
import { startProcess } from "./start-process.js";

/** How to start the server of the live page. */
export interface LiveOptions {
  /** folder of the project */
  readonly project: string;
  /** a free one where left out */
  readonly port?: number;
  /** where the browser's files were built to; kernel-lib/dist/page where left out */
  readonly pageFolder?: string;
  /** what starts a kernel; a process of ours where left out */
  readonly start?: StartKernel;
  /** one line for the person at the terminal */
  readonly log?: (line: string) => void;
  /** how often pages are asked whether they are still there; 30 s where left out */
  readonly pingEveryMs?: number;
}

const builtPage = join(__dirname, "..", "..", "..", "dist", "page");

/** The server of the live page: this machine alone, one project. */
export class LiveServer {
  readonly kernels: LiveKernels;
  private readonly channels: Channels;
  private readonly log: (line: string) => void;
  private readonly routes: readonly Route[];

  private constructor(
    private readonly http: Server,
    private readonly gate: Gate,
    private readonly context: LiveContext,
    { start, log = () => undefined, pingEveryMs }: LiveOptions,
  ) {
    this.channels = new Channels(pingEveryMs);
    this.kernels = new LiveKernels(context.project, start ?? startProcess(context.scratch));
    this.log = log;
    this.routes = [
      ...shellRoutes(context),
      ...assetRoutes(context),
      ...contentsRoutes(context, this.kernels),
      ...fileRoutes(context),
      ...dialbookRoutes(context),
      ...kernelRoutes(this.kernels),
      ...quietRoutes(this.kernels),
      ...sheetRoutes(context),
    ];
    http.on("request", (request, response) => void this.answer(request, response));
    http.on("upgrade", (request, socket, head) => this.upgrade(request, socket, head));
  }

  /** @throws MeasurementError `port-taken`, `not-written` */
  static async start(options: LiveOptions): Promise<LiveServer> {
    const http = createServer({ maxHeaderSize: 16_384 });
    await listening(http, options.port ?? 0);
    const { port } = http.address() as AddressInfo;
    const project = realpathSync(options.project);
    try {
      const context = { project, scratch: ownFolder(project, port), pageFolder: options.pageFolder ?? builtPage };
      return new LiveServer(http, new Gate(port), context, options);
    } catch (error) {
      http.close();
      throw error;
    }
  }

  get listensOn(): string {
    return (this.http.address() as AddressInfo).address;
  }

  get port(): number {
    return this.gate.port;
  }

  /** An address that lets one browser in, once. */
  address(): string {
    return `http://127.0.0.1:${this.port}/?token=${this.gate.issue()}`;
  }

  /** Ends kernels first, then connections; nothing is left behind. */
  async stop(): Promise<void> {
    await this.kernels.endAll();
    this.channels.close();
    this.http.closeAllConnections();
    await new Promise((resolve) => this.http.close(resolve));
    rmSync(this.context.scratch, { recursive: true, force: true });
  }

  private async answer(request: IncomingMessage, response: ServerResponse): Promise<void> {
    let answer: Answer;
    try {
      answer = await this.answerTo(request);
    } catch (error) {
      answer = this.refusal(request, error);
    }
    const { status = 200, json, headers } = answer;
    const body = json === undefined ? (answer.body ?? "") : JSON.stringify(json);
    const type = json === undefined ? answer.type : "application/json";
    response.writeHead(status, {
      ...pageHeaders(this.port),
      ...(type !== undefined && { "content-type": type }),
      ...(body.length > 0 && { "content-length": Buffer.byteLength(body) }),
      // the rest of a body that was not read to its end must not be taken for the next request
      ...(!request.complete && { connection: "close" }),
      ...headers,
    });
    response.end(request.method === "HEAD" ? undefined : body);
  }

  private async answerTo(request: IncomingMessage): Promise<Answer> {
    const host = this.gate.needOurs(request);
    const { path, query } = addressOf(request);
    const token = query.get("token");
    if (path === "/" && token !== null) {
      return { status: 303, headers: { "set-cookie": this.gate.admit(token), location: "/" } };
    }
    this.gate.needAdmitted(request);
    const { route, open } = routeFor(this.routes, request.method ?? "", path);
    const body = (): Promise<Buffer> => bodyOf(request, route.largest);
    const json = async () => jsonOf(await body());
    return route.answer({ method: request.method ?? "", open, query, headers: request.headers, host, body, json });
  }

  private refusal(request: IncomingMessage, error: unknown): Answer {
    if (!(error instanceof MeasurementError)) {
      this.log(error instanceof Error ? (error.stack ?? error.message) : String(error));
      return {
        status: 500,
        json: { message: "the page's server went wrong here; its terminal says how", reason: "server" },
      };
    }
    const status = statusOf(error);
    const isPage = (request.headers.accept ?? "").includes("text/html");
    if (isPage) return { status, ...sentencePage(error.message) };
    return { status, json: { message: error.message, reason: error.code } };
  }

  private upgrade(request: IncomingMessage, socket: Duplex, head: Buffer): void {
    socket.on("error", () => socket.destroy());
    try {
      this.gate.needOurs(request, true);
      this.gate.needAdmitted(request);
      const { path, query } = addressOf(request);
      if (path === "/api/events/subscribe") {
        this.channels.openQuiet(request, socket, head);
        return;
      }
      const { open } = routeFor([channelsRoute], "GET", path);
      const session = query.get("session_id") || randomUUID();
      this.channels.open(request, socket, head, this.kernels.kernel(open.id ?? ""), session);
    } catch (error) {
      const { status = 500, json } = this.refusal(request, error);
      const body = JSON.stringify(json ?? {});
      socket.end(
        `HTTP/1.1 ${status} Refused\r\nconnection: close\r\ncontent-type: application/json\r\ncontent-length: ${Buffer.byteLength(body)}\r\n\r\n${body}`,
      );
    }
  }
}

/** the address of a kernel's websocket; never asked for as a page */
const channelsRoute: Route = { method: "GET", path: "/api/kernels/:id/channels", answer: () => ({ status: 426 }) };
