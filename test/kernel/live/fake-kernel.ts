import type { RequestChannel } from "../../../kernel-lib/src/kernel/client.js";
import type { KernelHooks, RunningKernel, StartKernel } from "../../../kernel-lib/src/kernel/live/live-kernel.js";
import { header, type Message } from "../../../kernel-lib/src/kernel/wire.js";

/** A kernel that answers as told, without a process: `print TEXT` prints, `wait` never ends, `die` ends the kernel. */
export class FakeKernel implements RunningKernel {
  readonly got: Message[] = [];
  interrupts = 0;
  isDown = false;
  /** whether no cell ends by itself */
  isSlow = false;

  constructor(
    readonly folder: string,
    private readonly hooks: KernelHooks,
  ) {}

  pass(channel: RequestChannel, message: Message): void {
    this.got.push(message);
    const code = String(message.content.code ?? "");
    this.publish("status", { execution_state: "busy" }, message);
    if (this.isSlow || code === "wait") return;
    if (code === "die") {
      this.die("was ended by SIGKILL");
      return;
    }
    if (code.startsWith("print ")) this.publish("stream", { name: "stdout", text: code.slice(6) }, message);
    this.reply(message, channel);
    this.publish("status", { execution_state: "idle" }, message);
  }

  publish(type: string, content: Message["content"], to: Message): void {
    this.hooks.published(answerTo(to, type, content));
  }

  reply(message: Message, channel: RequestChannel = "shell"): void {
    const type = message.header.msg_type.replace(/_request$/, "_reply");
    this.hooks.passedBack(channel, answerTo(message, type, { status: "ok" }));
  }

  die(reason: string): void {
    this.isDown = true;
    this.hooks.over(reason);
  }

  interrupt(): void {
    this.interrupts++;
  }

  async shutdown(): Promise<void> {
    this.die("ended with exit code 0");
  }
}

function answerTo(message: Message, type: string, content: Message["content"]): Message {
  return { identities: [], header: header(type, "kernel"), parent: message.header, metadata: {}, content };
}

/** The kernels that were started, in order; the next starts may be held back or refused. */
export class FakeKernels {
  readonly started: FakeKernel[] = [];
  /** what the next start ends in, where it does not succeed */
  failure: string | undefined;
  hold: Promise<void> = Promise.resolve();

  readonly start: StartKernel = async (folder, hooks, signal) => {
    const stopped = new Promise<never>((_, reject) => {
      signal.addEventListener("abort", () => reject(new Error("was stopped while it started")));
    });
    await Promise.race([this.hold, stopped]);
    if (this.failure !== undefined) throw new Error(this.failure);
    const kernel = new FakeKernel(folder, hooks);
    this.started.push(kernel);
    return kernel;
  };

  get last(): FakeKernel {
    const kernel = this.started.at(-1);
    if (kernel === undefined) throw new Error("no kernel was started");
    return kernel;
  }
}
