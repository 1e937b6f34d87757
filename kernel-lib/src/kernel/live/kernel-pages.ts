import type { Framed } from "./framing.js";
import { KernelPage, type PageSocket } from "./kernel-page.js";

/** so many pages that went away are remembered */
const mostAway = 4;

/** The tabs that look at a kernel, by the name each has in its messages. */
export class KernelPages {
  private readonly pages = new Map<string, KernelPage>();

  get connected(): number {
    return [...this.pages.values()].filter(({ isHere }) => isHere).length;
  }

  isHere(session: string): boolean {
    return this.pages.get(session)?.isHere === true;
  }

  /** A tab looks in, or is back again: what it missed is sent first. */
  come(session: string, socket: PageSocket): void {
    const page = this.pages.get(session) ?? new KernelPage();
    this.pages.delete(session);
    this.pages.set(session, page);
    page.come(socket);
  }

  leave(session: string, socket: PageSocket): void {
    this.pages.get(session)?.leave(socket);
    const away = [...this.pages].filter(([, page]) => !page.isHere);
    for (const [oldest] of away.slice(0, Math.max(away.length - mostAway, 0))) this.pages.delete(oldest);
  }

  send(session: string, framed: Framed): void {
    this.pages.get(session)?.send(framed);
  }

  sendAll(framed: Framed): void {
    for (const page of this.pages.values()) page.send(framed);
  }

  close(): void {
    for (const page of this.pages.values()) page.close();
    this.pages.clear();
  }
}
