import { JupyterHandlerImpl } from "tslab/dist/jupyter.js";
import type { Router } from "zeromq";
import type { CellContext } from "./cell-context.js";
import type { CellError } from "./cell-errors.js";
import type { CellNotices } from "./cell-notices.js";
import { CellRequests } from "./cell-requests.js";
import type { CellSession } from "./cell-session.js";
import type { Connection } from "./connection-file.js";
import { kernelInfo } from "./kernel-info.js";
import { captureOutput, OutputStream } from "./output-stream.js";
import { OutstandingWork } from "./outstanding-work.js";
import { ShellQueue } from "./shell-queue.js";
import { KernelSockets } from "./sockets.js";
import { complete, inspectAt } from "./source-help.js";
import { decode, header, type Message, settleRequest, WireError } from "./wire.js";

type Content = { readonly [key: string]: unknown };

/** Front ends talk to this: it answers requests one after the other and publishes what cells show. */
export class KernelServer {
  private readonly sockets: KernelSockets;
  private readonly help: JupyterHandlerImpl;
  private readonly cells: CellRequests;
  private readonly stream: OutputStream;
  private readonly work = new OutstandingWork();
  private readonly shell = new ShellQueue((message, aborted) => this.answer(this.sockets.shell, message, aborted));

  constructor(
    private readonly connection: Connection,
    private readonly session: CellSession,
    notices: CellNotices,
    /** called once a front end has asked for the end and has its answer */
    private readonly ended: () => void,
    /** one line for the log of whoever started the kernel */
    private readonly log: (line: string) => void,
  ) {
    this.sockets = new KernelSockets(connection);
    this.help = new JupyterHandlerImpl(session.executor, false);
    this.stream = new OutputStream((name, text, context) => this.send("stream", { name, text }, context.request));
    this.cells = new CellRequests(session, notices, (type, content, context) => this.publish(type, content, context));
  }

  async start(): Promise<void> {
    await this.sockets.bind();
    captureOutput(this.stream);
    // a cell may end the process; what it printed before is not lost
    process.on("exit", () => this.stream.flush());
    void this.receive(this.sockets.shell, (message) => this.shell.add(message));
    void this.receive(this.sockets.control, (message) => void this.answer(this.sockets.control, message, false));
  }

  /** Publishes on behalf of a cell, after what the cell has printed so far. */
  publish(type: string, content: Content, context: CellContext): void {
    this.stream.flush();
    this.send(type, content, context.request);
  }

  /** Reports what was thrown outside a cell's own run, on the cell it came from, in one line. */
  reportLate(error: CellError, context: CellContext): void {
    this.stream.flush();
    const line = error.place ? ` at line ${error.place.line}` : "";
    const text = `${error.ename}: ${error.evalue.replace(/\s+/g, " ")} (thrown${line} of cell [${context.cell}], from a timer or a promise nobody awaits)\n`;
    this.send("stream", { name: "stderr", text }, context.request, { dialbook: { late: true, ...error.place } });
  }

  close(): void {
    this.stream.flush();
    this.session.executor.close();
    this.sockets.close();
  }

  private async receive(socket: Router, use: (message: Message) => void): Promise<void> {
    for await (const frames of socket) {
      try {
        use(decode(this.connection.key, frames));
      } catch (error) {
        if (!(error instanceof WireError)) throw error;
        this.log(error.message);
      }
    }
  }

  /** One request from `busy` to `idle`. */
  private async answer(socket: Router, message: Message, aborted: boolean): Promise<void> {
    const type = message.header.msg_type;
    this.send("status", { execution_state: "busy" }, message);
    let content: Content | undefined;
    try {
      content = aborted ? { status: "aborted" } : await this.contentFor(type, message);
    } catch (error) {
      content = { status: "error", ...this.session.describe(error, 0) };
    }
    this.stream.flush();
    if (content) {
      const reply = header(type.replace(/_request$/, "_reply"), message.header.session);
      const { identities } = message;
      this.sockets.reply(socket, { identities, header: reply, parent: message.header, metadata: {}, content });
    }
    this.send("status", { execution_state: "idle" }, message);
    if (type === "shutdown_request") this.ended();
  }

  private async contentFor(type: string, message: Message): Promise<Content | undefined> {
    const { content } = message;
    if (type === "execute_request") {
      this.work.look();
      const reply = await this.cells.execute(message);
      // requests sent before the error is known are not to run on its ruins
      if (reply.status === "error" && content.stop_on_error !== false) await this.shell.abortWaiting();
      return reply;
    }
    if (type === "kernel_info_request") return kernelInfo(this.help);
    if (type === "complete_request") return complete(this.session.executor, content);
    if (type === "inspect_request") return inspectAt(this.session.executor, content);
    if (type === "is_complete_request") return { ...this.help.handleIsComplete({ code: String(content.code) }) };
    if (type === "history_request") return { status: "ok", history: this.cells.history.answer(content) };
    if (type === "comm_info_request") return { status: "ok", comms: {} };
    if (type === "shutdown_request") return { status: "ok", restart: content.restart === true };
    if (type === settleRequest) {
      await this.work.over(Number(content.within_ms));
      return { status: "ok" };
    }
    if (type === "interrupt_request") {
      this.session.executor.interrupt();
      return { status: "ok" };
    }
    if (!type.startsWith("comm_")) this.log(`a message of unknown type ${type} was left unanswered`);
    return undefined;
  }

  private send(type: string, content: Content, request: Message, metadata: Content = {}): void {
    this.sockets.publish({
      identities: [Buffer.from(type)],
      header: header(type, request.header.session),
      parent: request.header,
      metadata,
      content,
    });
  }
}
