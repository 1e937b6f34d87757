import { randomUUID } from "node:crypto";
import type { RequestChannel } from "../client.js";
import { Insistence } from "../insistence.js";
import { header, type Message } from "../wire.js";
import type { Framed } from "./framing.js";
import type { PageSocket } from "./kernel-page.js";
import { KernelPages } from "./kernel-pages.js";
import { askedAgain, kernelInfo, Outstanding } from "./outstanding.js";
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
  private readonly insistence = new Insistence(() => this.state === "busy");
  private readonly pages = new KernelPages();
  private readonly outstanding = new Outstanding((session) => this.pages.isHere(session));

  constructor(
    /** whole path of the folder its cells run in */
    readonly folder: string,
    private readonly start: StartKernel,
  ) {
    this.running = this.begin();
  }

  get connections(): number {
    return this.pages.connected;
  }

  /** requests of cells that run, or ended, while the page that sent them is away */
  get unheard(): readonly Message[] {
    return this.outstanding.unheard;
  }

  /** A tab looks in, or is back again: what it missed is sent first. */
  connect(session: string, socket: PageSocket): void {
    this.pages.come(session, socket);
    this.outstanding.back(session);
    if (this.state === "dead") this.pages.send(session, this.status("dead"));
  }

  disconnect(session: string, socket: PageSocket): void {
    this.pages.leave(session, socket);
  }

  /** A message of a tab for the kernel; it waits while the kernel starts. */
  async take(session: string, { channel, message }: Framed): Promise<void> {
    if (channel === "iopub") return;
    if (message.metadata[askedAgain] === true) {
      for (const framed of this.outstanding.again(session, channel, message)) this.pages.send(session, framed);
      return;
    }
    this.outstanding.add(session, channel, message);
    if (this.state === "dead") this.answerOutstanding(this.reason ?? "has ended");
    const asked = this.running;
    const kernel = await asked;
    if (asked === this.running) kernel?.pass(channel, message);
    // asked of a kernel that was restarted meanwhile: the new one answers as well
    else if (message.header.msg_type === kernelInfo) (await this.running)?.pass(channel, message);
  }

  /** Asks the cell that runs to stop. @throws Refused `kernel-dead` */
  async interrupt(): Promise<void> {
    const kernel = await this.running;
    if (kernel === undefined || this.state === "dead") {
      throw new Refused(409, "kernel-dead", `the kernel ${this.reason ?? "has ended"}; restart it`);
    }
    this.insistence.begin(() => kernel.interrupt());
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
    this.pages.sendAll(this.status("dead"));
    this.starting.abort();
    await (await this.running)?.shutdown();
    this.pages.close();
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
    this.pages.sendAll(this.status("starting"));
    this.running = old.then(async (kernel) => {
      await kernel?.shutdown();
      return this.ending ? undefined : this.begin();
    });
    if ((await this.running) === undefined) {
      throw new Refused(500, "kernel-start", `the kernel ${this.reason ?? "did not start"}`);
    }
    this.pages.sendAll(this.status("idle"));
  }

  private published(message: Message): void {
    this.lastActivity = new Date();
    const { execution_state: state } = message.content;
    if (message.header.msg_type === "status" && (state === "busy" || state === "idle")) this.turn(state);
    const framed: Framed = { channel: "iopub", message };
    this.outstanding.heard(framed);
    this.pages.sendAll(framed);
  }

  private passedBack(channel: RequestChannel, message: Message): void {
    const framed: Framed = { channel, message };
    const asked = this.outstanding.heard(framed);
    const sessions = asked.length > 0 ? asked : [message.parent.session ?? ""];
    for (const session of sessions) this.pages.send(session, framed);
  }

  private died(reason: string): void {
    if (this.ending || this.state === "dead") return;
    this.turn("dead", reason);
    this.answerOutstanding(reason);
    this.pages.sendAll(this.status("dead"));
  }

  private turn(state: KernelState, reason?: string): void {
    if (this.ending && state !== "dead") return;
    if (state !== "busy") this.insistence.end();
    this.state = state;
    this.reason = reason;
    this.lastActivity = new Date();
  }

  /** Cells that were running or waiting end in a sentence, so that none waits for ever. */
  private answerOutstanding(reason: string): void {
    for (const { sessions, framed } of this.outstanding.ended(reason)) {
      if (framed.channel === "iopub") this.pages.sendAll(framed);
      else for (const session of sessions) this.pages.send(session, framed);
    }
  }

  private status(state: KernelState): Framed {
    const message = { identities: [], header: header("status", this.id), parent: {}, metadata: {} };
    return { channel: "iopub", message: { ...message, content: { execution_state: state } } };
  }
}
