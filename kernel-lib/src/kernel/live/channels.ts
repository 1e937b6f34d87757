import type { IncomingMessage } from "node:http";
import type { Duplex } from "node:stream";
import { type WebSocket, WebSocketServer } from "ws";
import { WireError } from "../wire.js";
import { inMegabytes } from "./body.js";
import { binaryFraming, binaryProtocol, type Framing, plainFraming } from "./framing.js";
import type { LiveKernel } from "./live-kernel.js";

/** largest message of a page, in bytes; a cell of that size is no cell */
export const largestMessage = 16e6;
/** so much may wait to be sent to a page that does not take it; then it is cut off, and catches up when it is back */
const mostWaiting = 64e6;

/** The websockets of the pages: a kernel's channels in one of the two framings, and the quiet one for events. */
export class Channels {
  private readonly server = new WebSocketServer({
    noServer: true,
    maxPayload: 2 * largestMessage,
    handleProtocols: (offered) => (offered.has(binaryProtocol) ? binaryProtocol : false),
  });
  private readonly alive = new WeakSet<WebSocket>();
  private readonly pinging: NodeJS.Timeout;

  constructor(pingEveryMs = 30_000) {
    // the clock comes before the sockets: where this process stood still, answers wait there that are read first
    this.pinging = setInterval(() => setImmediate(() => this.ping()), pingEveryMs).unref();
  }

  /** A tab's connection with a kernel. */
  open(request: IncomingMessage, socket: Duplex, head: Buffer, kernel: LiveKernel, session: string): void {
    this.accept(request, socket, head, (page) => connect(page, kernel, session));
  }

  /** The connection on which a server of Jupyter would tell events: ours has none to tell. */
  openQuiet(request: IncomingMessage, socket: Duplex, head: Buffer): void {
    this.accept(request, socket, head, () => undefined);
  }

  close(): void {
    clearInterval(this.pinging);
    for (const page of this.server.clients) page.close(1001, "the page was stopped where it was started");
    for (const page of this.server.clients) setTimeout(() => page.terminate(), 500).unref();
    this.server.close();
  }

  private accept(request: IncomingMessage, socket: Duplex, head: Buffer, use: (page: WebSocket) => void): void {
    this.server.handleUpgrade(request, socket, head, (page) => {
      this.alive.add(page);
      page.on("pong", () => this.alive.add(page));
      // what is wrong with a connection ends it, and the page comes back by itself
      page.on("error", () => page.terminate());
      use(page);
    });
  }

  /** A page that was put to sleep does not answer: it is cut off, and what it misses is kept for it. */
  private ping(): void {
    for (const page of this.server.clients) {
      if (!this.alive.delete(page)) page.terminate();
      else page.ping();
    }
  }
}

function connect(page: WebSocket, kernel: LiveKernel, session: string): void {
  const framing: Framing = page.protocol === binaryProtocol ? binaryFraming : plainFraming;
  const socket = {
    send: (framed: Parameters<Framing["encode"]>[0]): boolean => {
      if (page.bufferedAmount > mostWaiting) page.terminate();
      // one that was cut off, or goes, is told of only a moment later
      if (page.readyState !== page.OPEN) return false;
      page.send(framing.encode(framed));
      return true;
    },
    close: (): void => page.close(1000, "this page was opened anew"),
  };
  page.on("message", (data: Buffer, isBinary: boolean) => receive(page, framing, kernel, session, data, isBinary));
  page.on("close", () => kernel.disconnect(session, socket));
  kernel.connect(session, socket);
}

function receive(
  page: WebSocket,
  framing: Framing,
  kernel: LiveKernel,
  session: string,
  data: Buffer,
  isBinary: boolean,
): void {
  if (data.length > largestMessage) {
    page.close(1009, `a message of over ${inMegabytes(largestMessage)} was refused; split the cell`);
    return;
  }
  try {
    void kernel.take(session, framing.decode(data, isBinary));
  } catch (error) {
    if (!(error instanceof WireError)) throw error;
    page.close(1003, error.message);
  }
}
