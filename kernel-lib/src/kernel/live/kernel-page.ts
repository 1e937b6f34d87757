import { header } from "../wire.js";
import type { Framed } from "./framing.js";

/** The websocket of one tab. */
export interface PageSocket {
  send(framed: Framed): void;
  close(): void;
}

/** what is kept for a tab that is away: as many messages, and as many bytes of outputs */
const mostMessages = 5000;
const mostBytes = 8e6;

/** One tab that looks at a kernel, here or away: asleep, or between two connections. */
export class KernelPage {
  private socket: PageSocket | undefined;
  private missed: { readonly framed: Framed; readonly size: number }[] = [];
  private size = 0;
  private dropped = 0;

  get isHere(): boolean {
    return this.socket !== undefined;
  }

  come(socket: PageSocket): void {
    this.socket?.close();
    this.socket = socket;
    const [missed, dropped] = [this.missed, this.dropped];
    this.missed = [];
    this.size = 0;
    this.dropped = 0;
    const [first] = missed;
    if (dropped > 0 && first !== undefined) socket.send(gap(dropped, first.framed));
    for (const { framed } of missed) socket.send(framed);
  }

  leave(socket: PageSocket): void {
    if (this.socket === socket) this.socket = undefined;
  }

  send(framed: Framed): void {
    if (this.socket) this.socket.send(framed);
    else this.keep(framed);
  }

  close(): void {
    this.socket?.close();
  }

  private keep(framed: Framed): void {
    const size = JSON.stringify(framed.message.content).length;
    this.missed.push({ framed, size });
    this.size += size;
    while (this.missed.length > mostMessages || this.size > mostBytes) {
      const index = this.missed.findIndex(({ framed: old }) => isOutput(old));
      const [old] = this.missed.splice(Math.max(index, 0), 1);
      this.size -= old?.size ?? 0;
      this.dropped++;
    }
  }
}

/** outputs may be missed; a reply or a status may not, as a cell would wait for it for ever */
function isOutput({ channel, message }: Framed): boolean {
  return channel === "iopub" && message.header.msg_type !== "status";
}

function gap(dropped: number, { message }: Framed): Framed {
  const text = `${dropped} outputs came while this page was away and were not kept; run the cell again to see them\n`;
  return {
    channel: "iopub",
    message: { ...message, header: header("stream", message.header.session), content: { name: "stderr", text } },
  };
}
