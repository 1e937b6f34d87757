import type { RequestChannel } from "../client.js";
import { type Header, header, type Message } from "../wire.js";
import type { Framed } from "./framing.js";

interface Open {
  readonly session: string;
  readonly channel: RequestChannel;
  readonly request: Header;
}

/** the question every front end begins with */
export const kernelInfo = "kernel_info_request";

/** so many requests of pages may wait for their answers; the oldest beyond that is forgotten */
const most = 10_000;

/** The requests of pages that a kernel has not answered yet. */
export class Outstanding {
  private readonly open = new Map<string, Open>();

  add(session: string, channel: RequestChannel, { header: request }: Message): void {
    if (!request.msg_type.endsWith("_request")) return;
    this.open.set(request.msg_id, { session, channel, request });
    const [oldest] = this.open.keys();
    if (this.open.size > most && oldest !== undefined) this.open.delete(oldest);
  }

  /** @returns the page that asked */
  answered({ header: { msg_type }, parent }: Message): string | undefined {
    const found = this.open.get(parent.msg_id ?? "");
    if (msg_type.endsWith("_reply")) this.open.delete(parent.msg_id ?? "");
    return found?.session;
  }

  /**
   * The answers to everything still open, when the kernel is gone: the first cell, which ran, ends in an error that says
   * so; those behind it were never begun and are told to be aborted.
   */
  ended(reason: string): readonly { readonly session: string; readonly framed: Framed }[] {
    // no person waits for what a kernel says of itself, and front ends take a refusal of it for a fault
    const waiting = [...this.open.values()].filter(({ request }) => request.msg_type !== kernelInfo);
    this.open.clear();
    const ran = waiting.find(({ request }) => request.msg_type === "execute_request");
    return waiting.flatMap(({ session, channel, request }) => {
      const error = {
        ename: "KernelEnded",
        evalue: `the kernel ${reason} while this cell ran; what earlier cells had made is gone: run them again`,
        traceback: [],
      };
      const isRan = request === ran?.request;
      const content = isRan ? { status: "error", execution_count: null, ...error } : { status: "aborted" };
      const reply = answer(channel, request.msg_type.replace(/_request$/, "_reply"), request, content);
      const idle = answer("iopub", "status", request, { execution_state: "idle" });
      const shown = isRan ? [answer("iopub", "error", request, error)] : [];
      return [...shown, reply, idle].map((framed) => ({ session, framed }));
    });
  }
}

function answer(channel: Framed["channel"], type: string, parent: Header, content: Message["content"]): Framed {
  return {
    channel,
    message: { identities: [], header: header(type, parent.session), parent, metadata: {}, content },
  };
}
