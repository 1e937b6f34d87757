import { header } from "../wire.js";
import type { Framed } from "./framing.js";

/** what is kept of messages for a page that is not there: as many of them, and as many bytes of outputs */
const mostMessages = 5000;
const mostBytes = 8e6;

/** Messages for a page that is not there, in their order; of too many the oldest outputs go, and that is told. */
export class Backlog {
  private kept: { readonly framed: Framed; readonly size: number }[] = [];
  private size = 0;
  private dropped = 0;

  get bytes(): number {
    return this.size;
  }

  get all(): readonly Framed[] {
    const [first] = this.kept;
    const told = this.dropped > 0 && first !== undefined ? [gap(this.dropped, first.framed)] : [];
    return [...told, ...this.kept.map(({ framed }) => framed)];
  }

  add(framed: Framed): void {
    const size = JSON.stringify(framed.message.content).length;
    this.kept.push({ framed, size });
    this.size += size;
    while (this.kept.length > mostMessages || this.size > mostBytes) {
      const index = this.kept.findIndex(({ framed: old }) => isOutput(old));
      const [old] = this.kept.splice(Math.max(index, 0), 1);
      this.size -= old?.size ?? 0;
      this.dropped++;
    }
  }

  /** all there is; nothing is kept any more */
  take(): readonly Framed[] {
    const { all } = this;
    this.kept = [];
    this.size = 0;
    this.dropped = 0;
    return all;
  }
}

/** outputs may be missed; a reply or a status may not, as a cell would wait for it for ever */
function isOutput({ channel, message }: Framed): boolean {
  return channel === "iopub" && message.header.msg_type !== "status";
}

function gap(dropped: number, { message }: Framed): Framed {
  const text = `${dropped} outputs were too many to be kept while no page was there; run the cell again to see them\n`;
  return {
    channel: "iopub",
    message: { ...message, header: header("stream", message.header.session), content: { name: "stderr", text } },
  };
}
