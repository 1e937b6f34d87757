import type { ISessionContext } from "@jupyterlab/apputils";
import type { Notices } from "./notices.js";

const words: { readonly [status: string]: string } = {
  idle: "ready",
  busy: "running",
  starting: "starting",
  initializing: "starting",
  restarting: "restarting",
  autorestarting: "restarting",
  terminating: "stopping",
  dead: "stopped",
  connecting: "connecting",
  disconnected: "not connected",
  unknown: "no kernel",
};

/** how long a broken line may take to mend before it is told */
const patienceMs = 1500;
const tryAgainMs = 3000;

/** Tells how the kernel does, what happened when it is gone, and brings it or the line to it back. */
export class KernelWatch {
  private broken: ReturnType<typeof setTimeout> | undefined;
  private mending: ReturnType<typeof setInterval> | undefined;
  private isLockedOut = false;
  onStatus: (word: string, status: string) => void = () => undefined;

  constructor(
    private readonly session: ISessionContext,
    private readonly notices: Notices,
  ) {
    session.statusChanged.connect(() => this.look());
    session.connectionStatusChanged.connect(() => this.look());
    session.kernelChanged.connect(() => this.look());
    // a machine that slept, a line that was away
    for (const event of ["online", "focus"]) window.addEventListener(event, () => void this.mend());
    document.addEventListener("visibilitychange", () => void (document.hidden || this.mend()));
  }

  /** the kernel's status, or that of the line to it */
  get status(): string {
    return this.session.kernelDisplayStatus;
  }

  async interrupt(): Promise<void> {
    try {
      await this.session.session?.kernel?.interrupt();
    } catch (error) {
      this.notices.say("kernel", `The kernel was not stopped: ${sentence(error)}`);
    }
  }

  /** @returns whether a fresh kernel is there */
  async restart(): Promise<boolean> {
    try {
      const kernel = this.session.session?.kernel;
      // one that died is not there to be started again: the notebook gets a new one
      if (kernel && !kernel.isDisposed && kernel.status !== "dead") await this.session.restartKernel();
      else await this.session.changeKernel({ name: this.name() });
      this.notices.settle("kernel");
      this.look();
      return true;
    } catch (error) {
      this.notices.say("kernel", `The kernel did not start: ${sentence(error)}`, [this.offer()]);
      return false;
    }
  }

  private name(): string {
    return this.session.prevKernelName || this.session.kernelPreference.name || "dialbook";
  }

  private offer() {
    return { label: "Start it again", act: async () => void (await this.restart()) };
  }

  private look(): void {
    const { status } = this;
    const kernel = this.session.session?.kernel;
    // a kernel that has not spoken yet is on its way
    this.onStatus(status === "unknown" && kernel ? "starting" : (words[status] ?? status), status);
    if (kernel?.status === "dead" || status === "dead") this.tellDead();
    const away = status === "disconnected" || status === "connecting";
    if (away) this.broken ??= setTimeout(() => this.tellAway(), patienceMs);
    else this.settleAway();
    if (["idle", "busy", "starting", "restarting"].includes(status) && kernel?.status !== "dead")
      this.notices.settle("kernel");
  }

  private tellDead(): void {
    if (this.notices.has("kernel")) return;
    this.notices.say(
      "kernel",
      "The kernel stopped, and with it the values of the cells; your text and the outputs are all here",
      [this.offer()],
    );
  }

  private tellAway(): void {
    this.notices.say(
      "line",
      "No connection to the server; what you write stays on this page and is saved when it is back",
      [{ label: "Try now", act: () => this.mend() }],
    );
    this.mending ??= setInterval(() => void this.mend(), tryAgainMs);
  }

  private settleAway(): void {
    clearTimeout(this.broken);
    clearInterval(this.mending);
    this.broken = this.mending = undefined;
    this.isLockedOut = false;
    this.notices.settle("line");
  }

  private async mend(): Promise<void> {
    const kernel = this.session.session?.kernel;
    // a line on its way is left alone, until it took so long that it was told: the widgets' own next try may be minutes off
    const waits = kernel?.connectionStatus === "connecting" && this.notices.has("line");
    if (!kernel || (kernel.connectionStatus !== "disconnected" && !waits)) return;
    const answer = await fetch("/api/status").catch(() => undefined);
    if (!answer) return;
    if (answer.status === 401 || answer.status === 403) {
      // once: whoever took the line away has read it
      if (this.isLockedOut) return;
      this.isLockedOut = true;
      this.notices.say(
        "line",
        "The server was started anew and asks for its key: open the address that it printed; save a copy of what you wrote first",
      );
      return;
    }
    const there = await fetch(`/api/kernels/${encodeURIComponent(kernel.id)}`).catch(() => undefined);
    if (there?.status === 404) {
      this.settleAway();
      this.tellDead();
      return;
    }
    await kernel.reconnect().catch(() => undefined);
  }
}

function sentence(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
