import { Dealer, Subscriber } from "zeromq";
import { address, type Connection } from "./connection-file.js";
import { decode, encode, header, headlessUser, type Message, WireError } from "./wire.js";

type Content = { readonly [key: string]: unknown };
type Listener = (message: Message) => void;

/** the channels over which requests go, and the answers to the kernel's own questions */
export type RequestChannel = "shell" | "control" | "stdin";

/** How a request ended: its reply, once the kernel has also said `idle` for it. */
interface Pending {
  reply?: Message;
  idle: boolean;
  readonly answer: () => void;
  readonly done: (reply: Message) => void;
  readonly failed: (reason: Error) => void;
}

/** A request on its way. */
export interface Asked {
  readonly id: string;
  /** the reply alone is there, or the kernel is gone */
  readonly answered: Promise<void>;
  readonly reply: Promise<Message>;
}

/** a kernel that is being started is looked for a hundred times a second: once it listens, nothing waits for the clock */
const joining = { linger: 0, reconnectInterval: 10 };

/** A front end without a page: speaks to one kernel over its sockets. */
export class KernelClient {
  private readonly session = crypto.randomUUID();
  // a kernel asks on stdin whoever has asked it on shell: one identity for both
  private readonly identity = { ...joining, routingId: crypto.randomUUID() };
  private readonly shell = new Dealer(this.identity);
  private readonly stdin = new Dealer(this.identity);
  private readonly control = new Dealer(joining);
  private readonly iopub = new Subscriber({ ...joining, receiveHighWaterMark: 0 });
  private readonly pending = new Map<string, Pending>();
  private gone: Error | undefined;

  constructor(
    private readonly connection: Connection,
    /** everything the kernel publishes, in order */
    private readonly published: Listener,
    /** the name it speaks under; by the usual one the kernel knows that nobody looks */
    private readonly username = headlessUser,
    /** what comes back for messages that were only passed on */
    private readonly passedBack: (channel: RequestChannel, message: Message) => void = () => undefined,
  ) {
    this.iopub.subscribe();
    this.shell.connect(address(connection, "shell_port"));
    this.control.connect(address(connection, "control_port"));
    this.stdin.connect(address(connection, "stdin_port"));
    this.iopub.connect(address(connection, "iopub_port"));
    for (const channel of ["shell", "control", "stdin"] as const)
      void this.receive(this[channel], (message) => this.replied(channel, message));
    void this.receive(this.iopub, (message) => this.heard(message));
  }

  /** Resolves when both channels are joined: a subscriber misses what was published before it was there, so the
   * question is repeated until its `idle` is heard. */
  async ready(): Promise<Message> {
    const first = this.request("kernel_info_request", {});
    first.reply.catch(() => undefined);
    await first.answered;
    for (;;) {
      const asked = this.request("kernel_info_request", {});
      const late = new Promise<undefined>((resolve) => setTimeout(resolve, 50, undefined));
      const reply = await Promise.race([asked.reply, late]);
      if (reply) return reply;
      asked.reply.catch(() => undefined);
    }
  }

  /** Sends a request; the reply counts as there when the kernel has published `idle` for it as well. */
  request(type: string, content: Content, channel: "shell" | "control" = "shell"): Asked {
    const head = header(type, this.session, this.username);
    let answer = (): void => undefined;
    const answered = new Promise<void>((resolve) => {
      answer = resolve;
    });
    const reply = new Promise<Message>((done, failed) => {
      this.pending.set(head.msg_id, { idle: false, answer, done, failed });
    });
    const message = { identities: [], header: head, parent: {}, metadata: {}, content };
    if (this.gone) this.fail(this.gone);
    else this[channel].send(encode(this.connection.key, message)).catch((error: Error) => this.fail(error));
    return { id: head.msg_id, answered, reply };
  }

  /** Passes on a message of another front end as it is; its answer comes back the same way. */
  pass(channel: RequestChannel, message: Message): void {
    if (this.gone) return;
    this[channel].send(encode(this.connection.key, message)).catch((error: Error) => this.fail(error));
  }

  /** Ends every open request, and every later one, with this reason: the kernel is gone. */
  fail(reason: Error): void {
    this.gone = reason;
    for (const { answer, failed } of this.pending.values()) {
      failed(reason);
      answer();
    }
    this.pending.clear();
  }

  close(): void {
    for (const socket of [this.shell, this.control, this.stdin, this.iopub]) socket.close();
  }

  private async receive(socket: Dealer | Subscriber, use: Listener): Promise<void> {
    for await (const frames of socket) {
      try {
        use(decode(this.connection.key, frames));
      } catch (error) {
        if (!(error instanceof WireError)) throw error;
      }
    }
  }

  private replied(channel: RequestChannel, message: Message): void {
    const pending = this.pending.get(message.parent.msg_id ?? "");
    if (!pending) {
      if (message.parent.session !== this.session) this.passedBack(channel, message);
      return;
    }
    pending.reply = message;
    pending.answer();
    this.settle(message.parent.msg_id ?? "", pending);
  }

  private heard(message: Message): void {
    this.published(message);
    const pending = this.pending.get(message.parent.msg_id ?? "");
    if (!pending || message.header.msg_type !== "status" || message.content.execution_state !== "idle") return;
    pending.idle = true;
    this.settle(message.parent.msg_id ?? "", pending);
  }

  private settle(id: string, pending: Pending): void {
    if (!pending.reply || !pending.idle) return;
    this.pending.delete(id);
    pending.done(pending.reply);
  }
}
