import type { RequestChannel } from "../client.js";
import { type Header, header, type Message } from "../wire.js";
import { Backlog } from "./backlog.js";
import type { Framed } from "./framing.js";

interface Open {
  readonly channel: RequestChannel;
  readonly request: Message;
  /** the tab that asked, and those that asked again */
  readonly askers: Set<string>;
  /** of a cell, all that came of it so far */
  readonly heard: Backlog | undefined;
  isReplied: boolean;
  isIdle: boolean;
}

/** An answer and the tabs it is for. */
export interface Answered {
  readonly sessions: readonly string[];
  readonly framed: Framed;
}

/** the question every front end begins with */
export const kernelInfo = "kernel_info_request";

/** what a page says with a cell that an earlier page sent: it is not run again, all that came of it is told */
export const askedAgain = "askedAgain";

/** so many requests of pages may wait for their answers; the oldest beyond that is forgotten */
const most = 10_000;
/** so many bytes of outputs are kept of cells that ended while no page was there to hear it */
const mostUnheard = 8e6;

/**
 * The requests of pages that a kernel has not answered to the end, with what came of the cells among them: a page that
 * is loaded anew asks for its cells again and hears everything. A cell that ended while no page heard it stays until one
 * asks.
 */
export class Outstanding {
  private readonly open = new Map<string, Open>();

  constructor(
    /** whether a tab is connected */
    private readonly isHere: (session: string) => boolean,
  ) {}

  /** the requests of cells that no connected page waits for */
  get unheard(): readonly Message[] {
    return [...this.open.values()].filter((open) => open.heard && this.isUnheard(open)).map(({ request }) => request);
  }

  add(session: string, channel: RequestChannel, request: Message): void {
    const { msg_type: type, msg_id: id } = request.header;
    if (!type.endsWith("_request")) return;
    const heard = type === "execute_request" ? new Backlog() : undefined;
    this.open.set(id, { channel, request, askers: new Set([session]), heard, isReplied: false, isIdle: false });
    const [oldest] = this.open.keys();
    if (this.open.size > most && oldest !== undefined) this.open.delete(oldest);
  }

  /** Notes what the kernel said. @returns the tabs whose request it answers */
  heard(framed: Framed): readonly string[] {
    const open = this.open.get(framed.message.parent.msg_id ?? "");
    if (open === undefined) return [];
    this.note(open, framed);
    return [...open.askers];
  }

  /**
   * A page asks again for a cell that an earlier one asked for. It gets all that came of it, from the start: what it had
   * heard already of it is to be taken away.
   */
  again(session: string, channel: RequestChannel, { header: asked }: Message): readonly Framed[] {
    const open = this.open.get(asked.msg_id);
    if (open?.heard === undefined) {
      return [answer(channel, "execute_reply", asked, { status: "aborted" }), idle(asked)];
    }
    open.askers.add(session);
    const told = [answer("iopub", "clear_output", asked, { wait: false }), ...open.heard.all];
    this.settle(open);
    return told;
  }

  /** A tab is back under its name: it was told itself how its cells ended. */
  back(session: string): void {
    for (const open of this.open.values()) if (open.askers.has(session)) this.settle(open);
  }

  /**
   * The answers to everything still open, when the kernel is gone: the first cell, which ran, ends in an error that says
   * so; those behind it were never begun and are told to be aborted.
   */
  ended(reason: string): readonly Answered[] {
    const waiting = [...this.open.values()].filter((open) => !isOver(open));
    const ran = waiting.find(({ request, isReplied }) => !isReplied && request.header.msg_type === "execute_request");
    return waiting.flatMap((open) => {
      const { header: asked } = open.request;
      this.open.delete(asked.msg_id);
      // no person waits for what a kernel says of itself, and front ends take a refusal of it for a fault
      if (asked.msg_type === kernelInfo) return [];
      const last = lastWords(open, open === ran, reason);
      const sessions = [...open.askers];
      if (open.heard && this.isUnheard(open)) {
        this.open.set(asked.msg_id, open);
        for (const framed of last) this.note(open, framed);
      }
      return last.map((framed) => ({ sessions, framed }));
    });
  }

  private note(open: Open, framed: Framed): void {
    const { header: said, content } = framed.message;
    open.heard?.add(framed);
    if (framed.channel !== "iopub" && said.msg_type.endsWith("_reply")) open.isReplied = true;
    if (said.msg_type === "status" && content.execution_state === "idle") open.isIdle = true;
    this.settle(open);
  }

  /** forgets a request that is over, and of the cells whose end nobody heard the oldest where they are too many */
  private settle(open: Open): void {
    if (!isOver(open)) return;
    if (!open.heard || !this.isUnheard(open)) {
      this.open.delete(open.request.header.msg_id);
      return;
    }
    const kept = [...this.open].filter(([, each]) => each.heard && isOver(each));
    let bytes = kept.reduce((sum, [, each]) => sum + (each.heard?.bytes ?? 0), 0);
    for (const [id, each] of kept) {
      if (bytes <= mostUnheard) return;
      bytes -= each.heard?.bytes ?? 0;
      this.open.delete(id);
    }
  }

  private isUnheard({ askers }: Open): boolean {
    return ![...askers].some((session) => this.isHere(session));
  }
}

/** a cell is over when it was replied to and the kernel rests; of another request nothing but the reply is awaited */
function isOver({ heard, isReplied, isIdle }: Open): boolean {
  return isReplied && (isIdle || heard === undefined);
}

function lastWords({ channel, request, isReplied }: Open, isRan: boolean, reason: string): readonly Framed[] {
  const { header: asked } = request;
  if (isReplied) return [idle(asked)];
  const error = {
    ename: "KernelEnded",
    evalue: `the kernel ${reason} while this cell ran; what earlier cells had made is gone: run them again`,
    traceback: [],
  };
  const content = isRan ? { status: "error", execution_count: null, ...error } : { status: "aborted" };
  const shown = isRan ? [answer("iopub", "error", asked, error)] : [];
  return [...shown, answer(channel, asked.msg_type.replace(/_request$/, "_reply"), asked, content), idle(asked)];
}

function idle(asked: Header): Framed {
  return answer("iopub", "status", asked, { execution_state: "idle" });
}

function answer(channel: Framed["channel"], type: string, parent: Header, content: Message["content"]): Framed {
  return {
    channel,
    message: { identities: [], header: header(type, parent.session), parent, metadata: {}, content },
  };
}
