import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import type { WebSocket } from "ws";
import { binaryFraming, binaryProtocol } from "../../../kernel-lib/src/kernel/live/framing.js";
import { header } from "../../../kernel-lib/src/kernel/wire.js";
import { Bench } from "./a-server.js";

interface KernelModel {
  readonly id: string;
  readonly execution_state: string;
  readonly connections: number;
  readonly reason?: string;
}
interface SessionModel {
  readonly id: string;
  readonly path: string;
  readonly kernel: KernelModel;
}

let bench: Bench;
beforeAll(async () => {
  bench = await Bench.start();
});
afterAll(() => bench.server.stop());
afterEach(async () => {
  bench.kernels.failure = undefined;
  bench.kernels.hold = Promise.resolve();
  await bench.server.kernels.endAll();
});

const open = (path = "notebooks/one.ipynb"): Promise<SessionModel> =>
  bench.json<SessionModel>("/api/sessions", "POST", { path, type: "notebook", name: "", kernel: { name: "dialbook" } });
const kernelOf = (id: string): Promise<KernelModel> => bench.json<KernelModel>(`/api/kernels/${id}`);
const soon = (ms = 20): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

/** waits until something holds, many times as long as it takes */
async function until(holds: () => boolean | Promise<boolean>, what: () => string): Promise<void> {
  for (const end = performance.now() + 20_000; performance.now() < end; ) {
    if (await holds()) return;
    await soon(5);
  }
  throw new Error(what());
}
/** waits until the server sees a kernel in this state */
const isIn = (id: string, state: string): Promise<void> =>
  until(
    async () => (await kernelOf(id)).execution_state === state,
    () => `the kernel is not ${state}`,
  );

/** One tab: what it sent and everything it heard, a line each. */
class Tab {
  readonly heard: string[] = [];
  closed: readonly [code: number, reason: string] | undefined;

  private constructor(
    private readonly socket: WebSocket,
    private readonly kernel: string,
    private readonly session: string,
    private readonly isBinary: boolean,
  ) {
    socket.on("message", (data: Buffer) => this.hear(data));
    socket.on("close", (code, reason) => (this.closed = [code, reason.toString()]));
  }

  static async open(kernel: string, session: string, isBinary = false): Promise<Tab> {
    const protocols = isBinary ? [binaryProtocol, "other"] : [];
    const socket = bench.socket(`/api/kernels/${kernel}/channels?session_id=${session}`, protocols);
    const tab = new Tab(socket, kernel, session, isBinary);
    await new Promise((resolve, reject) => socket.once("open", resolve).once("error", reject));
    expect(socket.protocol).toBe(isBinary ? binaryProtocol : "");
    return tab;
  }

  run(code: string, type = "execute_request"): void {
    const head = { ...header(type, this.session), msg_id: code };
    const rest = { metadata: {}, content: { code } };
    this.socket.send(
      this.isBinary
        ? binaryFraming.encode({ channel: "shell", message: { identities: [], header: head, parent: {}, ...rest } })
        : JSON.stringify({ channel: "shell", header: head, parent_header: {}, ...rest }),
    );
  }

  /** what a page loaded anew does with a cell of the page before it */
  again(request: object): void {
    this.socket.send(JSON.stringify({ ...request, metadata: { askedAgain: true } }));
  }

  raw(data: string | Buffer): void {
    this.socket.send(data);
  }

  /** waits until the server has all that was sent: it answers in order */
  async arrived(): Promise<void> {
    const answer = new Promise((resolve) => this.socket.once("pong", resolve));
    this.socket.ping();
    await answer;
  }

  /** goes, and waits until the server has seen it */
  async leave(): Promise<void> {
    const { connections } = await kernelOf(this.kernel);
    this.socket.terminate();
    await until(
      async () => (await kernelOf(this.kernel)).connections < connections,
      () => "the server did not see the tab go",
    );
  }

  /** waits until a line was heard */
  async until(line: string | RegExp): Promise<void> {
    await until(
      () => this.heard.some((heard) => (typeof line === "string" ? heard === line : line.test(heard))),
      () => `${String(line)} was not heard, but ${JSON.stringify(this.heard)}`,
    );
  }

  async untilClosed(): Promise<void> {
    await until(
      () => this.closed !== undefined,
      () => "the connection was not closed",
    );
  }

  private hear(data: Buffer): void {
    const text = this.isBinary
      ? undefined
      : (JSON.parse(data.toString()) as { [key: string]: { [key: string]: string } });
    const { channel, header: head, content, parent_header: parent } = text ?? readBinary(data);
    const { execution_state: state, text: printed, status, evalue } = content ?? {};
    this.heard.push(
      [channel, head?.msg_type, parent?.msg_id, evalue ?? state ?? printed ?? status].filter(Boolean).join(" "),
    );
  }
}

function readBinary(data: Buffer): { [key: string]: { [key: string]: string } } {
  const count = Number(data.readBigUInt64LE(0));
  const offsets = Array.from({ length: count }, (_, i) => Number(data.readBigUInt64LE(8 * (i + 1))));
  const parts = offsets.slice(0, -1).map((from, i) => data.subarray(from, offsets[i + 1]).toString());
  const [channel, head, parent, , content] = parts.map((part, i) => (i === 0 ? part : (JSON.parse(part) as object)));
  return { channel, header: head, parent_header: parent, content } as unknown as ReturnType<typeof readBinary>;
}

describe("a session", () => {
  it("is one for all tabs of a notebook, with its kernel in the notebook's folder", async () => {
    const [first, second] = [await open(), await open()];
    expect([second.id, second.kernel.id]).toEqual([first.id, first.kernel.id]);
    expect(bench.kernels.last.folder).toBe(`${bench.project}/notebooks`);
    expect(await bench.json<SessionModel[]>("/api/sessions")).toHaveLength(1);
    const other = await open("notebooks/other.ipynb");
    expect(other.kernel.id).not.toBe(first.kernel.id);
    expect((await bench.json<KernelModel[]>("/api/kernels")).map(({ id }) => id)).toEqual([
      first.kernel.id,
      other.kernel.id,
    ]);
  });

  it("goes with its notebook to a new name and may change its kernel; the old kernel is ended", async () => {
    const session = await open();
    await isIn(session.kernel.id, "idle");
    const old = bench.kernels.last;
    const renamed = await bench.json<SessionModel>(`/api/sessions/${session.id}`, "PATCH", {
      path: "notebooks/new.ipynb",
    });
    expect([renamed.path, renamed.kernel.id]).toEqual(["notebooks/new.ipynb", session.kernel.id]);
    const changed = await bench.json<SessionModel>(`/api/sessions/${session.id}`, "PATCH", {
      kernel: { name: "dialbook" },
    });
    expect(changed.kernel.id).not.toBe(session.kernel.id);
    expect(old.isDown).toBe(true);
  });

  it("ends with its kernel", async () => {
    const session = await open();
    await isIn(session.kernel.id, "idle");
    expect((await bench.ask(`/api/sessions/${session.id}`, { method: "DELETE" })).status).toBe(204);
    expect(bench.kernels.last.isDown).toBe(true);
    expect(await bench.refusal(`/api/kernels/${session.kernel.id}`)).toEqual([
      404,
      `there is no kernel "${session.kernel.id}" any more; run a cell to start one`,
    ]);
  });

  it("is refused outside the project, and where too many notebooks run", async () => {
    const begin = (path: string) => bench.refusal("/api/sessions", { method: "POST", body: JSON.stringify({ path }) });
    expect((await begin("../../etc/x.ipynb"))[0]).toBe(403);
    expect(await bench.refusal("/api/sessions", { method: "POST", body: "{}" })).toEqual([
      400,
      'a session: the path is missing; give one like "notebooks/my-mill.ipynb"',
    ]);
    const shown: Tab[] = [];
    for (let n = 0; n < 12; n++) {
      const { kernel } = await open(`notebooks/${n}.ipynb`);
      shown.push(await Tab.open(kernel.id, `tab ${n}`));
    }
    expect(await begin("notebooks/12.ipynb")).toEqual([
      503,
      "12 notebooks are running, which is the most at once; close one that is not needed",
    ]);
    // one that nobody looks at any more makes room
    const [resting] = bench.kernels.started.slice(-12);
    await shown[0]!.leave();
    await until(
      async () => (await begin("notebooks/12.ipynb"))[0] === 201,
      () => "no room was made",
    );
    expect(resting!.isDown).toBe(true);
    expect(bench.kernels.started.slice(-12).filter(({ isDown }) => isDown)).toEqual([]);
  });
});

describe("the channels", () => {
  it.each([false, true])(
    "carry a cell to the kernel and its answers back, in either framing (binary: %s)",
    async (isBinary) => {
      const { kernel } = await open();
      const tab = await Tab.open(kernel.id, "a", isBinary);
      tab.run("print 7");
      await tab.until("iopub status print 7 idle");
      expect(tab.heard).toEqual([
        "iopub status print 7 busy",
        "iopub stream print 7 7",
        "shell execute_reply print 7 ok",
        "iopub status print 7 idle",
      ]);
      expect(bench.kernels.last.got[0]?.header).toMatchObject({ msg_type: "execute_request", session: "a" });
    },
  );

  it("show every tab what is published, and the reply only to the one that asked", async () => {
    const { kernel } = await open();
    const [one, two] = [await Tab.open(kernel.id, "a"), await Tab.open(kernel.id, "b", true)];
    expect((await kernelOf(kernel.id)).connections).toBe(2);
    one.run("print 7");
    for (const tab of [one, two]) await tab.until("iopub status print 7 idle");
    expect(two.heard).toEqual(one.heard.filter((line) => line.startsWith("iopub")));
    expect(one.heard).toContain("shell execute_reply print 7 ok");
  });

  it("hold what is sent while the kernel starts", async () => {
    let letGo = (): void => undefined;
    bench.kernels.hold = new Promise((resolve) => (letGo = resolve));
    const { kernel } = await open();
    const tab = await Tab.open(kernel.id, "a");
    tab.run("print 1");
    tab.run("print 2");
    await tab.arrived();
    expect([tab.heard, (await kernelOf(kernel.id)).execution_state]).toEqual([[], "starting"]);
    letGo();
    await tab.until("iopub status print 2 idle");
    expect(tab.heard.filter((line) => line.startsWith("iopub stream"))).toEqual([
      "iopub stream print 1 1",
      "iopub stream print 2 2",
    ]);
  });

  it("give a tab that was away what it missed, in order", async () => {
    const { kernel } = await open();
    const tab = await Tab.open(kernel.id, "a");
    tab.run("wait");
    await tab.until("iopub status wait busy");
    await tab.leave();
    const fake = bench.kernels.last;
    const [cell] = fake.got;
    if (cell === undefined) throw new Error("the kernel got nothing");
    fake.publish("stream", { text: "still " }, cell);
    fake.publish("stream", { text: "here" }, cell);
    fake.publish("status", { execution_state: "idle" }, cell);
    const back = await Tab.open(kernel.id, "a");
    await back.until("iopub status wait idle");
    expect(back.heard).toEqual(["iopub stream wait still ", "iopub stream wait here", "iopub status wait idle"]);
  });

  it("keep no more for it than 8 MB: outputs are dropped, and it is told; replies and states are not", async () => {
    const { kernel } = await open();
    const tab = await Tab.open(kernel.id, "a");
    tab.run("wait");
    await tab.until("iopub status wait busy");
    await tab.leave();
    const fake = bench.kernels.last;
    const [cell] = fake.got;
    if (cell === undefined) throw new Error("the kernel got nothing");
    for (let n = 0; n < 20; n++) fake.publish("stream", { text: `${n}`.padEnd(1_000_000, ".") }, cell);
    fake.publish("status", { execution_state: "idle" }, cell);
    const back = await Tab.open(kernel.id, "a");
    await back.until("iopub status wait idle");
    expect(back.heard[0]).toBe(
      "iopub stream wait 13 outputs were too many to be kept while no page was there; run the cell again to see them\n",
    );
    expect(back.heard.slice(1).map((line) => line.slice(0, 20))).toEqual([
      ...[13, 14, 15, 16, 17, 18, 19].map((n) => `iopub stream wait ${n}`),
      "iopub status wait id",
    ]);
  });

  it("close on what is no message, with a sentence", async () => {
    const { kernel } = await open();
    for (const data of ["{", "[]", '{"channel":"shell"}', '{"channel":"iopub","header":{}}', Buffer.alloc(3)]) {
      const tab = await Tab.open(kernel.id, "a");
      tab.raw(data);
      await tab.untilClosed();
      expect(tab.closed).toEqual([1003, "a message that is not one of Jupyter's was refused; load the page again"]);
    }
  });

  it("close on a message that is too large, with a sentence", async () => {
    const { kernel } = await open();
    const tab = await Tab.open(kernel.id, "a");
    tab.raw(Buffer.alloc(16_000_001, 32));
    await tab.untilClosed();
    expect(tab.closed).toEqual([1009, "a message of over 16 MB was refused; split the cell"]);
    expect(bench.kernels.last.got).toEqual([]);
  });

  it("have a quiet one for events", async () => {
    const socket = bench.socket("/api/events/subscribe");
    await new Promise((resolve, reject) => socket.once("open", resolve).once("error", reject));
    socket.close();
  });
});

describe("a page that is loaded anew while a cell runs", () => {
  interface Request {
    readonly header: { readonly msg_id: string };
    readonly content: { readonly code: string };
  }
  const running = async (id: string): Promise<readonly Request[]> =>
    bench.json<readonly Request[]>(`/dialbook/running/${id}`);
  const codes = async (id: string) => (await running(id)).map(({ content }) => content.code);
  const cell = () => bench.kernels.last.got[0]!;

  it("asks for the cell again and hears all of it from the start, and what comes then; it is run once", async () => {
    const { kernel } = await open();
    const first = await Tab.open(kernel.id, "a");
    first.run("wait");
    await first.until("iopub status wait busy");
    const fake = bench.kernels.last;
    fake.publish("stream", { text: "before" }, cell());
    await first.until("iopub stream wait before");
    expect(await codes(kernel.id)).toEqual([]);
    await first.leave();
    fake.publish("stream", { text: "meanwhile" }, cell());
    const second = await Tab.open(kernel.id, "b", true);
    const [request] = await running(kernel.id);
    const plain = await Tab.open(kernel.id, "c");
    plain.again(request!);
    await plain.until("iopub stream wait meanwhile");
    fake.publish("stream", { text: "after" }, cell());
    fake.reply(cell());
    fake.publish("status", { execution_state: "idle" }, cell());
    for (const tab of [plain, second]) await tab.until("iopub status wait idle");
    expect(plain.heard).toEqual([
      "iopub clear_output wait",
      "iopub status wait busy",
      "iopub stream wait before",
      "iopub stream wait meanwhile",
      "iopub stream wait after",
      "shell execute_reply wait ok",
      "iopub status wait idle",
    ]);
    expect(second.heard).toEqual(["iopub stream wait after", "iopub status wait idle"]);
    expect([fake.got.length, await codes(kernel.id)]).toEqual([1, []]);
  });

  it("hears of a cell that ended, or whose kernel ended, while no page was there, once", async () => {
    const { kernel } = await open();
    const first = await Tab.open(kernel.id, "a");
    first.run("wait");
    first.run("behind");
    await first.until("iopub status behind idle");
    await first.leave();
    const fake = bench.kernels.last;
    fake.publish("stream", { text: "late" }, cell());
    fake.reply(cell());
    fake.publish("status", { execution_state: "idle" }, cell());
    expect(await codes(kernel.id)).toEqual(["wait"]);
    const second = await Tab.open(kernel.id, "b");
    const [request] = await running(kernel.id);
    second.again(request!);
    await second.until("iopub status wait idle");
    expect(second.heard.slice(2)).toEqual([
      "iopub stream wait late",
      "shell execute_reply wait ok",
      "iopub status wait idle",
    ]);
    expect(await codes(kernel.id)).toEqual([]);

    second.run("wait");
    await second.until("iopub status wait busy");
    await second.leave();
    fake.die("was ended by SIGKILL");
    expect(await codes(kernel.id)).toEqual(["wait"]);
    const third = await Tab.open(kernel.id, "d");
    third.again((await running(kernel.id))[0]!);
    await third.until(/^iopub error wait the kernel was ended by SIGKILL while this cell ran/);
    await third.until("iopub status wait idle");
  });

  it("that asks for what the server does not know any more is told so, and nothing is run", async () => {
    const { kernel } = await open();
    await isIn(kernel.id, bench.kernels.failure === undefined ? "idle" : "dead");
    const tab = await Tab.open(kernel.id, "a");
    const head = { ...header("execute_request", "gone"), msg_id: "old" };
    tab.again({ channel: "shell", header: head, parent_header: {}, content: { code: "print 1" } });
    await tab.until("iopub status old idle");
    expect(tab.heard).toEqual(["shell execute_reply old aborted", "iopub status old idle"]);
    expect(bench.kernels.last.got).toEqual([]);
  });

  it("finds nothing to ask for where its tab only slept", async () => {
    const { kernel } = await open();
    const tab = await Tab.open(kernel.id, "a");
    tab.run("wait");
    await tab.until("iopub status wait busy");
    await tab.leave();
    bench.kernels.last.reply(cell());
    bench.kernels.last.publish("status", { execution_state: "idle" }, cell());
    expect(await codes(kernel.id)).toEqual(["wait"]);
    const back = await Tab.open(kernel.id, "a");
    await back.until("iopub status wait idle");
    expect(await codes(kernel.id)).toEqual([]);
  });

  it("costs no more than 8 MB for cells whose end nobody hears", async () => {
    const { kernel } = await open();
    const tab = await Tab.open(kernel.id, "a");
    await isIn(kernel.id, "idle");
    const fake = bench.kernels.last;
    fake.isSlow = true;
    for (let n = 0; n < 12; n++) tab.run(`cell ${n}`);
    await until(
      () => fake.got.length === 12,
      () => "not all cells came",
    );
    await tab.leave();
    for (const request of fake.got) {
      fake.publish("stream", { text: "x".repeat(1_000_000) }, request);
      fake.reply(request);
      fake.publish("status", { execution_state: "idle" }, request);
    }
    expect(await codes(kernel.id)).toEqual([5, 6, 7, 8, 9, 10, 11].map((n) => `cell ${n}`));
  });
});

describe("a kernel that ends", () => {
  it("ends the cell that ran in a sentence, aborts those behind it, and is shown as dead to every tab", async () => {
    const { kernel } = await open();
    const [one, two] = [await Tab.open(kernel.id, "a"), await Tab.open(kernel.id, "b")];
    one.run("wait");
    one.run("behind");
    one.run("die");
    for (const tab of [one, two]) await tab.until("iopub status dead");
    const sentence =
      "the kernel was ended by SIGKILL while this cell ran; what earlier cells had made is gone: run them again";
    expect(one.heard).toContain(`iopub error wait ${sentence}`);
    expect(one.heard).toContain(`shell execute_reply wait ${sentence}`);
    expect(one.heard).toContain("shell execute_reply die aborted");
    expect(one.heard.filter((line) => line.endsWith("idle"))).toContain("iopub status wait idle");
    expect(two.heard).toContain(`iopub error wait ${sentence}`);
    expect(await kernelOf(kernel.id)).toMatchObject({ execution_state: "dead", reason: "was ended by SIGKILL" });
    expect(await bench.refusal(`/api/kernels/${kernel.id}/interrupt`, { method: "POST" })).toEqual([
      409,
      "the kernel was ended by SIGKILL; restart it",
    ]);
    // a cell that is sent all the same gets its answer, and does not wait for ever
    one.run("late");
    await one.until("iopub status late idle");
  });

  it("is started anew under the same name by a restart, or under another by opening the notebook", async () => {
    const session = await open();
    const tab = await Tab.open(session.kernel.id, "a");
    tab.run("die");
    await tab.until("iopub status dead");
    const again = await bench.json<KernelModel>(`/api/kernels/${session.kernel.id}/restart`, "POST");
    expect(again).toMatchObject({ id: session.kernel.id, execution_state: "idle" });
    tab.run("print 2");
    await tab.until("iopub stream print 2 2");
    tab.run("die");
    await isIn(session.kernel.id, "dead");
    const opened = await open();
    expect([opened.id, opened.kernel.id === session.kernel.id]).toEqual([session.id, false]);
  });

  it("says why it could not start, and takes a restart", async () => {
    bench.kernels.failure = "ended with exit code 1; its last words: no such module";
    const { kernel } = await open();
    await isIn(kernel.id, bench.kernels.failure === undefined ? "idle" : "dead");
    expect(await kernelOf(kernel.id)).toMatchObject({ execution_state: "dead", reason: bench.kernels.failure });
    expect(await bench.refusal(`/api/kernels/${kernel.id}/restart`, { method: "POST" })).toEqual([
      500,
      "the kernel ended with exit code 1; its last words: no such module",
    ]);
    bench.kernels.failure = undefined;
    expect((await bench.ask(`/api/kernels/${kernel.id}/restart`, { method: "POST" })).status).toBe(200);
  });
});

describe("a kernel", () => {
  it("is asked to stop again and again while its cell does not, and no more once it rests", async () => {
    const { kernel } = await open();
    await isIn(kernel.id, bench.kernels.failure === undefined ? "idle" : "dead");
    const tab = await Tab.open(kernel.id, "a");
    tab.run("wait");
    await tab.until("iopub status wait busy");
    await bench.ask(`/api/kernels/${kernel.id}/interrupt`, { method: "POST" });
    const { last } = bench.kernels;
    await until(
      () => last.interrupts >= 3,
      () => `it was asked ${last.interrupts} times`,
    );
    last.publish("status", { execution_state: "idle" }, last.got.at(-1)!);
    const counted = last.interrupts;
    await soon(700);
    expect(last.interrupts).toBe(counted);
  });

  it("is interrupted, and restarted once where two tabs ask at once", async () => {
    const { kernel } = await open();
    await isIn(kernel.id, bench.kernels.failure === undefined ? "idle" : "dead");
    expect((await bench.ask(`/api/kernels/${kernel.id}/interrupt`, { method: "POST" })).status).toBe(204);
    expect(bench.kernels.last.interrupts).toBe(1);
    const before = bench.kernels.started.length;
    const tab = await Tab.open(kernel.id, "a");
    tab.run("wait");
    await tab.until("iopub status wait busy");
    const restart = () => bench.ask(`/api/kernels/${kernel.id}/restart`, { method: "POST" });
    let letGo = (): void => undefined;
    bench.kernels.hold = new Promise((resolve) => (letGo = resolve));
    const asked = [restart(), restart()];
    // what is asked after them is answered: both have come
    for (let n = 0; n < 2; n++) await kernelOf(kernel.id);
    await soon(200);
    letGo();
    const both = await Promise.all(asked);
    // the other tabs see that it begins anew
    await tab.until("iopub status starting");
    await tab.until("iopub status idle");
    expect([both.map(({ status }) => status), bench.kernels.started.length - before]).toEqual([[200, 200], 1]);
    await tab.until(
      "shell execute_reply wait the kernel was restarted while this cell ran; what earlier cells had made is gone: run them again",
    );
  });

  it("that is still starting is ended at once with the server", async () => {
    bench.kernels.hold = new Promise(() => undefined);
    const { kernel } = await open();
    const tab = await Tab.open(kernel.id, "a");
    tab.run("info", "kernel_info_request");
    tab.run("print 1");
    await tab.arrived();
    await bench.server.kernels.endAll();
    expect((await bench.ask(`/api/kernels/${kernel.id}`)).status).toBe(404);
    await tab.until("iopub status print 1 idle");
    expect(tab.heard.filter((line) => line.includes("info"))).toEqual([]);
  });

  it("that is restarted while it starts answers what a front end asks first", async () => {
    bench.kernels.hold = new Promise(() => undefined);
    const { kernel } = await open();
    const tab = await Tab.open(kernel.id, "a");
    tab.run("info", "kernel_info_request");
    await tab.arrived();
    bench.kernels.hold = Promise.resolve();
    expect((await bench.ask(`/api/kernels/${kernel.id}/restart`, { method: "POST" })).status).toBe(200);
    await tab.until("shell kernel_info_reply info ok");
  });
});
