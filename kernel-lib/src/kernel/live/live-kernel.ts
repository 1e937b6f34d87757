import { randomUUID } from "node:crypto";
import type { RequestChannel } from "../client.js";
import { header, type Message } from "../wire.js";
import type { Framed } from "./framing.js";
import { KernelPage, type PageSocket } from "./kernel-page.js";
import { kernelInfo, Outstanding } from "./outstanding.js";
import { Refused } from "./refused.js";

/** A kernel as this server drives it. */
export interface RunningKernel {
  pass(channel: RequestChannel, message: Message): void;
  interrupt(): void;
  shutdown(): Promise<void>;
}

/** What a kernel reports while it runs. */
export interface KernelHooks {
  published(message: Message): void;
  passedBack(channel: RequestChannel, message: Message): void;
  over(reason: string): void;
}

/** Starts a kernel in a folder; the signal ends one that has not answered yet. */
export type StartKernel = (folder: string, hooks: KernelHooks, signal: AbortSignal) => Promise<RunningKernel>;
export type KernelState = "starting" | "idle" | "busy" | "restarting" | "dead";

/** so many pages that went away are remembered */
const mostAway = 4;

/** how often, and in steps of how many ms, a cell is asked again to stop */
const insistence = { times: 20, every: 500 };

/** One kernel behind the page: it keeps its name over restarts, and any number of tabs may look at it. */
export class LiveKernel {
  readonly id = randomUUID();
  state: KernelState = "starting";
  lastActivity = new Date();
  /** why it is dead */
  reason: string | undefined;
  private running: Promise<RunningKernel | undefined>;
  private restarting: Promise<void> | undefined;
  /** counts starts, so that what an earlier process still says is not taken for the present one's */
  private life = 0;
  private starting = new AbortController();
  private ending = false;
  private insisting: NodeJS.Timeout | undefined;
  private readonly pages = new Map<string, KernelPage>();
  private readonly outstanding = new Outstanding();

  constructor(
    /** whole path of the folder its cells run in */
    readonly folder: string,
    private readonly start: StartKernel,
  ) {
    this.running = this.begin();
  }

  get connections(): number {
    return [...this.pages.values()].filter(({ isHere }) => isHere).length;
  }

  /** A tab looks in, or is back again: what it missed is sent first. */
  connect(session: string, socket: PageSocket): void {
    const page = this.pages.get(session) ?? new KernelPage();
    this.pages.delete(session);
    this.pages.set(session, page);
    page.come(socket);
    if (this.state === "dead") page.send(this.status("dead"));
  }

  disconnect(session: string, socket: PageSocket): void {
    this.pages.get(session)?.leave(socket);
    const away = [...this.pages].filter(([, page]) => !page.isHere);
    for (const [oldest] of away.slice(0, Math.max(away.length - mostAway, 0))) this.pages.delete(oldest);
  }

  /** A message of a tab for the kernel; it waits while the kernel starts. */
  async take(session: string, { channel, message }: Framed): Promise<void> {
    if (channel === "iopub") return;
    this.outstanding.add(session, channel, message);
    if (this.state === "dead") this.answerOutstanding(this.reason ?? "has ended");
    const asked = this.running;
    const kernel = await asked;
    if (asked === this.running) kernel?.pass(channel, message);
    // asked of a kernel that was restarted meanwhile: the new one answers as well
    else if (message.header.msg_type === kernelInfo) (await this.running)?.pass(channel, message);
  }

  /**
   * Asks the cell that runs to stop, again until the kernel rests: a signal that comes while a cell is still compiled is
   * spent before the cell begins.
   *
   * @throws Refused `kernel-dead`
   */
  async interrupt(): Promise<void> {
    const kernel = await this.running;
    if (kernel === undefined || this.state === "dead") {
      throw new Refused(409, "kernel-dead", `the kernel ${this.reason ?? "has ended"}; restart it`);
    }
    this.insist(kernel, insistence.times);
  }

  private insist(kernel: RunningKernel, times: number): void {
    kernel.interrupt();
    clearTimeout(this.insisting);
    const again = (): void => {
      if (this.state === "busy" && times > 1) this.insist(kernel, times - 1);
    };
    this.insisting = setTimeout(again, insistence.every).unref();
  }

  /** Ends the process and starts another under the same name; asked twice at once, it is done once. */
  restart(): Promise<void> {
    this.restarting ??= this.renew().finally(() => {
      this.restarting = undefined;
    });
    return this.restarting;
  }

  async shutdown(): Promise<void> {
    this.ending = true;
    this.turn("dead", "was shut down");
    this.answerOutstanding("was shut down");
    this.publish(this.status("dead"));
    this.starting.abort();
    await (await this.running)?.shutdown();
    for (const page of this.pages.values()) page.close();
    this.pages.clear();
  }

  private async begin(): Promise<RunningKernel | undefined> {
    const life = ++this.life;
    this.starting = new AbortController();
    const current = (act: () => void): void => {
      if (life === this.life) act();
    };
    try {
      const hooks: KernelHooks = {
        published: (message) => current(() => this.published(message)),
        passedBack: (channel, message) => current(() => this.passedBack(channel, message)),
        over: (reason) => current(() => this.died(reason)),
      };
      const kernel = await this.start(this.folder, hooks, this.starting.signal);
      if (this.state === "starting" || this.state === "restarting") this.turn("idle");
      return kernel;
    } catch (error) {
      const sentence = error instanceof Error ? error.message : String(error);
      current(() => this.died(sentence.replace(/^the kernel /, "")));
      return undefined;
    }
  }

  private async renew(): Promise<void> {
    const old = this.running;
    this.life++;
    this.starting.abort();
    this.turn("restarting");
    this.answerOutstanding("was restarted");
    // not "restarting": at that word the front end says that the kernel has died
    this.publish(this.status("starting"));
    this.running = old.then(async (kernel) => {
      await kernel?.shutdown();
      return this.ending ? undefined : this.begin();
    });
    if ((await this.running) === undefined) {
      throw new Refused(500, "kernel-start", `the kernel ${this.reason ?? "did not start"}`);
    }
    this.publish(this.status("idle"));
  }

  private published(message: Message): void {
    this.lastActivity = new Date();
    const { execution_state: state } = message.content;
    if (message.header.msg_type === "status" && (state === "busy" || state === "idle")) this.turn(state);
    this.publish({ channel: "iopub", message });
  }

  private passedBack(channel: RequestChannel, message: Message): void {
    const session = this.outstanding.answered(message) ?? message.parent.session ?? "";
    this.pages.get(session)?.send({ channel, message });
  }

  private died(reason: string): void {
    if (this.ending || this.state === "dead") return;
    this.turn("dead", reason);
    this.answerOutstanding(reason);
    this.publish(this.status("dead"));
  }

  private turn(state: KernelState, reason?: string): void {
    if (this.ending && state !== "dead") return;
    if (state !== "busy") clearTimeout(this.insisting);
    this.state = state;
    this.reason = reason;
    this.lastActivity = new Date();
  }

  /** Cells that were running or waiting end in a sentence, so that none waits for ever. */
  private answerOutstanding(reason: string): void {
    for (const { session, framed } of this.outstanding.ended(reason)) {
      if (framed.channel === "iopub") this.publish(framed);
      else this.pages.get(session)?.send(framed);
    }
  }

  private publish(framed: Framed): void {
    for (const page of this.pages.values()) page.send(framed);
  }

  private status(state: KernelState): Framed {
    const message = { identities: [], header: header("status", this.id), parent: {}, metadata: {} };
    return { channel: "iopub", message: { ...message, content: { execution_state: state } } };
  }
}
