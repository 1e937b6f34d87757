import { randomUUID } from "node:crypto";
import { dirname } from "node:path";
import { LiveKernel, type StartKernel } from "./live-kernel.js";
import { needPath, placeOf } from "./place.js";
import { Refused } from "./refused.js";
import type { Json } from "./route.js";

/** the one kernel there is */
export const kernelName = "dialbook";
/** each takes some 150 MB */
const most = 12;

/** A notebook and the kernel that runs it. */
export interface LiveSession {
  readonly id: string;
  path: string;
  name: string;
  type: string;
  kernel: LiveKernel;
}

/** The kernels of this server and the notebooks they belong to: one kernel a notebook, however many tabs show it. */
export class LiveKernels {
  private readonly kernels = new Map<string, LiveKernel>();
  private readonly sessions = new Map<string, LiveSession>();

  constructor(
    private readonly project: string,
    private readonly start: StartKernel,
  ) {}

  get all(): readonly LiveKernel[] {
    return [...this.kernels.values()];
  }

  get allSessions(): readonly LiveSession[] {
    return [...this.sessions.values()];
  }

  /** @throws Refused `no-kernel` */
  kernel(id: string): LiveKernel {
    const found = this.kernels.get(id);
    if (found !== undefined) return found;
    throw new Refused(404, "no-kernel", `there is no kernel ${JSON.stringify(id)} any more; run a cell to start one`);
  }

  /** @throws Refused `no-session` */
  session(id: string): LiveSession {
    const found = this.sessions.get(id);
    if (found !== undefined) return found;
    throw new Refused(404, "no-session", `there is no session ${JSON.stringify(id)} any more; load the page again`);
  }

  /** A kernel that runs in the folder of this notebook. @throws Refused `kernels` where there are too many */
  begin(path: string): LiveKernel {
    const { file } = placeOf(this.project, path);
    for (const kernel of this.all) if (kernel.state === "dead" && !this.isUsed(kernel)) this.kernels.delete(kernel.id);
    if (this.kernels.size >= most) this.makeRoom();
    if (this.kernels.size >= most) {
      throw new Refused(
        503,
        "kernels",
        `${most} notebooks are running, which is the most at once; close one that is not needed`,
      );
    }
    const kernel = new LiveKernel(dirname(file), this.start);
    this.kernels.set(kernel.id, kernel);
    return kernel;
  }

  /** The kernel that has rested longest while no page looks at it ends; its notebook gets a new one when it is opened. */
  private makeRoom(): void {
    const [oldest] = this.all
      .filter(({ state, connections }) => state === "idle" && connections === 0)
      .sort((a, b) => a.lastActivity.getTime() - b.lastActivity.getTime());
    if (oldest === undefined) return;
    for (const [id, session] of this.sessions) if (session.kernel === oldest) this.sessions.delete(id);
    this.kernels.delete(oldest.id);
    void oldest.shutdown();
  }

  /** The session of a notebook, the one there is where another tab has begun it. */
  open({ path, name, type, kernel }: Json): LiveSession {
    const given = needPath(path, "a session");
    const wanted = isJson(kernel) && typeof kernel.id === "string" ? this.kernel(kernel.id) : undefined;
    const there = this.allSessions.find((session) => session.path === given);
    if (there !== undefined && wanted === undefined && there.kernel.state !== "dead") return there;
    const session: LiveSession = there ?? {
      id: randomUUID(),
      path: placeOf(this.project, given).path,
      name: String(name ?? ""),
      type: String(type ?? "notebook"),
      kernel: wanted ?? this.begin(given),
    };
    if (there !== undefined) this.exchange(there, wanted ?? this.begin(given));
    this.sessions.set(session.id, session);
    return session;
  }

  change(id: string, { path, name, type, kernel }: Json): LiveSession {
    const session = this.session(id);
    if (typeof path === "string") session.path = placeOf(this.project, path).path;
    if (typeof name === "string") session.name = name;
    if (typeof type === "string") session.type = type;
    if (isJson(kernel)) {
      const wanted = typeof kernel.id === "string" ? this.kernel(kernel.id) : this.begin(session.path);
      this.exchange(session, wanted);
    }
    return session;
  }

  /** a notebook was renamed: its kernel goes with it */
  moved(from: string, to: string): void {
    for (const session of this.sessions.values()) if (session.path === from) session.path = to;
  }

  async endSession(id: string): Promise<void> {
    const { kernel } = this.session(id);
    this.sessions.delete(id);
    if (!this.isUsed(kernel)) await this.end(kernel.id);
  }

  async end(id: string): Promise<void> {
    const kernel = this.kernel(id);
    for (const session of this.allSessions) if (session.kernel === kernel) this.sessions.delete(session.id);
    this.kernels.delete(id);
    await kernel.shutdown();
  }

  async endAll(): Promise<void> {
    await Promise.all(this.all.map(({ id }) => this.end(id)));
  }

  private exchange(session: LiveSession, kernel: LiveKernel): void {
    const old = session.kernel;
    session.kernel = kernel;
    if (old !== kernel && !this.isUsed(old)) {
      this.kernels.delete(old.id);
      void old.shutdown();
    }
  }

  private isUsed(kernel: LiveKernel): boolean {
    return this.allSessions.some((session) => session.kernel === kernel);
  }
}

function isJson(value: unknown): value is Json {
  return typeof value === "object" && value !== null;
}
