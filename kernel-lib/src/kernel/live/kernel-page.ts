import { Backlog } from "./backlog.js";
import type { Framed } from "./framing.js";

/** The websocket of one tab. */
export interface PageSocket {
  /** @returns false where the tab is gone: then it is kept for it */
  send(framed: Framed): boolean;
  close(): void;
}

/** One tab that looks at a kernel, here or away: asleep, or between two connections. */
export class KernelPage {
  private socket: PageSocket | undefined;
  private readonly missed = new Backlog();

  get isHere(): boolean {
    return this.socket !== undefined;
  }

  come(socket: PageSocket): void {
    this.socket?.close();
    this.socket = socket;
    for (const framed of this.missed.take()) this.send(framed);
  }

  leave(socket: PageSocket): void {
    if (this.socket === socket) this.socket = undefined;
  }

  send(framed: Framed): void {
    if (this.socket?.send(framed) === true) return;
    this.socket = undefined;
    this.missed.add(framed);
  }

  close(): void {
    this.socket?.close();
  }
}
