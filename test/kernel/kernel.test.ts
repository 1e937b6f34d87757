import { existsSync, readFileSync, statSync } from "node:fs";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { Dealer } from "zeromq";
import { address, readConnection } from "../../kernel-lib/src/kernel/connection-file.js";
import { Insistence } from "../../kernel-lib/src/kernel/insistence.js";
import { encode, header } from "../../kernel-lib/src/kernel/wire.js";
import { alive, Bench, built, endlessLoop, scratch } from "./workplace.js";

let bench: Bench;
beforeAll(async () => {
  built();
  bench = await Bench.start();
  await bench.run('import { degC, type Length, mm, MeasurementError, um } from "dialbook";');
});
afterAll(() => bench?.kernel.shutdown());

const text = (answer: {
  published: readonly { type: string; content: { readonly [key: string]: unknown } }[];
}): unknown =>
  answer.published.map(({ content }) => (content.data as { "text/plain"?: string } | undefined)?.["text/plain"]).join();

describe("the value of a cell", () => {
  it("is the last expression, as one execute_result", async () => {
    const { reply, published } = await bench.run("const a = 6;\na * 7");
    expect(reply.status).toBe("ok");
    expect(published.map(({ type }) => type)).toEqual(["execute_result"]);
    expect(published[0]?.content).toMatchObject({
      data: { "text/plain": "42" },
      execution_count: reply.execution_count,
    });
  });

  it("of the package shows itself, without a name being visible that was not imported", async () => {
    expect(text(await bench.run("mm(1).plus(um(5))"))).toBe("1.005 mm");
    expect((await bench.run("thou(1)")).reply.evalue).toBe(
      `line 1, column 1: 'thou' is not imported yet; write import { thou } from "dialbook", or run the cell that does`,
    );
  });

  it("may use a name of an earlier cell in the short form of an object", async () => {
    await bench.run("const height = 12;");
    const { published } = await bench.run("({ height }).height + 1");
    expect(published.map(({ content }) => content.data)).toEqual([{ "text/plain": "13" }]);
  });

  it("with a bundle of its own is shown whole, in one message", async () => {
    const bundle = `{ "text/html": "<b>4</b>", "image/svg+xml": "<svg/>", "text/plain": "4", "application/x+json": { a: [1] } }`;
    const { published } = await bench.run(`({ [Symbol.for("Jupyter.display")]: () => (${bundle}) })`);
    expect(published).toHaveLength(1);
    expect(published[0]?.content.data).toEqual({
      "text/html": "<b>4</b>",
      "image/svg+xml": "<svg/>",
      "text/plain": "4",
      "application/x+json": { a: [1] },
    });
  });

  it("made by the package is marked as such, any other HTML is not", async () => {
    const own = (await bench.run("mm(1)")).published[0]?.content;
    expect(own?.data).toHaveProperty("text/html");
    expect(own?.metadata).toEqual({ dialbook: true });
    const other = await bench.run(
      '({ [Symbol.for("Jupyter.display")]: () => ({ "text/html": "<script></script>" }) })',
    );
    expect(other.published[0]?.content).toMatchObject({ metadata: {}, data: { "text/html": "<script></script>" } });
  });

  it("is not shown when there is none, and is the text itself when it is a text", async () => {
    expect((await bench.run("undefined")).published).toEqual([]);
    expect((await bench.run("null")).published).toEqual([]);
    expect(text(await bench.run('"two\\nlines"'))).toBe("two\nlines");
    expect(text(await bench.run("await Promise.resolve([1, 2])"))).toBe("[ 1, 2 ]");
  });

  it("is neither shown nor counted for a silent request", async () => {
    const before = (await bench.run("1")).reply.execution_count;
    const silent = await bench.run("2", { silent: true, store_history: false });
    expect([silent.published, silent.reply.execution_count]).toEqual([[], before]);
  });
});

describe("a cell that does not compile", () => {
  it("is refused in the words of the shop, with the line and the compiler's words below", async () => {
    const { reply, published } = await bench.run("const a = 1;\nmm(1).plus(degC(20))");
    expect(reply).toMatchObject({ status: "error", ename: "CompileError", place: { line: 2, column: 12 } });
    expect(reply.evalue).toBe("line 2, column 12: a temperature (°C) was given where a length (mm) is needed");
    expect(published.map(({ type, content }) => [type, content.ename, content.evalue])).toEqual([
      ["error", "CompileError", reply.evalue],
    ]);
    expect(reply.traceback).toEqual([
      "CompileError: line 2, column 12: a temperature (°C) was given where a length (mm) is needed",
      "  mm(1).plus(degC(20))",
      "             ^",
      expect.stringMatching(
        /^ {2}compiler: Argument of type '.*' is not assignable to parameter of type 'Quantity<"length">'\./,
      ),
    ]);
  });

  it("names no file of this machine", async () => {
    const { reply } = await bench.run("mm(1) + um(2)");
    expect(JSON.stringify(reply)).not.toMatch(/import\(|node_modules|\/dist/);
  });
});

describe("a cell that throws", () => {
  it("shows the sentence of a MeasurementError and its own lines, none of a library", async () => {
    await bench.run(
      'function probe(z: number): number {\n  if (z > 3)\n    throw new MeasurementError("too-high", "probe: 4 is too high; lower it");\n  return z;\n}',
    );
    const defined = (await bench.run("0")).reply.execution_count as number;
    const { reply } = await bench.run("const z: number = 4;\n\nprobe(z)");
    expect(reply).toMatchObject({ ename: "MeasurementError", evalue: "probe: 4 is too high; lower it" });
    expect(reply.traceback).toEqual([
      "MeasurementError: probe: 4 is too high; lower it",
      `  line 3 of cell [${defined - 1}]: throw new MeasurementError("too-high", "probe: 4 is too high; lower it");`,
      "  line 3 of this cell: probe(z)",
    ]);
    expect(reply.place).toEqual({ line: 3, column: 1 });
  });

  it("is placed when the library throws, too", async () => {
    const { reply } = await bench.run("// one\nconst x = mm(\n  Number.NaN);");
    expect(reply).toMatchObject({ ename: "MeasurementError", place: { line: 2 } });
    expect(reply.traceback).toHaveLength(2);
  });

  it("may throw anything", async () => {
    expect((await bench.run('throw "text"')).reply).toMatchObject({ ename: "Thrown value", evalue: "text" });
    expect((await bench.run("throw undefined")).reply).toMatchObject({ ename: "Thrown value", evalue: "undefined" });
    expect((await bench.run("await Promise.reject(new RangeError('r'))")).reply).toMatchObject({ ename: "RangeError" });
  });

  it("from a timer is told in one line, for the cell that set it", async () => {
    const first = bench.send('1;\nsetTimeout(() => {\n  throw new Error("late\\none") }, 10)');
    await first.reply;
    await bench.run("await new Promise((resolve) => setTimeout(resolve, 100))");
    const told = bench.of(first.id).filter(({ type }) => type === "stream");
    expect(told).toHaveLength(1);
    expect(told[0]?.content.text).toMatch(
      /^Error: late one \(thrown at line 3 of cell \[\d+\], from a timer or a promise nobody awaits\)\n$/,
    );
  });
});

describe("output", () => {
  it("of 20,000 lines in one loop arrives whole and in order", async () => {
    const { reply, published } = await bench.run('for (let i = 0; i < 20000; i++) console.log("line", i);');
    const shown = published.map(({ content }) => content.text).join("");
    expect(reply.status).toBe("ok");
    expect(shown).toBe(Array.from({ length: 20_000 }, (_, i) => `line ${i}\n`).join(""));
  });

  it("of both streams, displays and the value keeps its order", async () => {
    const { published } = await bench.run(
      'import { display } from "tslab";\nconsole.log("a"); console.error("b"); display.html("c"); console.log("d");\n5',
    );
    expect(published.map(({ type, content }) => [type, content.name])).toEqual([
      ["stream", "stdout"],
      ["stream", "stderr"],
      ["display_data", undefined],
      ["stream", "stdout"],
      ["execute_result", undefined],
    ]);
  });
});

describe("the channel for displays", () => {
  it("shows, replaces, and knows the front end and that it has no page", async () => {
    const { published } = await bench.run(
      `const channel = require("dialbook/dist/display/channel.js").currentChannel();
      channel.show({ "text/plain": "first" }, "bar");
      channel.update({ "text/plain": "second" }, "bar");
      channel.show({ "text/plain": "third" });
      [channel.session, channel.headless].join()`,
    );
    const display = (text: string, transient: object) => ({ data: { "text/plain": text }, metadata: {}, transient });
    expect(published.slice(0, 3)).toEqual([
      { type: "display_data", content: display("first", { display_id: "bar" }) },
      { type: "update_display_data", content: display("second", { display_id: "bar" }) },
      { type: "display_data", content: display("third", {}) },
    ]);
    expect(text({ published: published.slice(3) })).toBe(`${bench.heard[0]?.parent.session},true`);
  });
});

describe("requests", () => {
  it("queued before an error are aborted; the next one runs at once", async () => {
    const failing = bench.send("throw 1");
    const queued = [bench.send("2"), bench.send("3")];
    expect((await failing.reply).content.status).toBe("error");
    const next = bench.send("4");
    expect((await Promise.all(queued.map(({ reply }) => reply))).map(({ content }) => content.status)).toEqual([
      "aborted",
      "aborted",
    ]);
    expect((await next.reply).content.status).toBe("ok");
  });

  it("to interrupt end an endless loop and a promise that never comes", async () => {
    const loops = [endlessLoop(scratch()), endlessLoop(scratch())] as const;
    const waiting = loops[1].code.replace("while (true) {}", "await new Promise(() => undefined)");
    for (const [code, { begun }] of [
      [loops[0].code, loops[0]],
      [waiting, loops[1]],
    ] as const) {
      const endless = bench.send(code);
      await begun();
      // a signal between what the cell does at once and its waiting may be spent too early: a client asks again
      const insistence = new Insistence(() => true);
      insistence.begin(() => bench.kernel.interrupt());
      const { content } = await endless.reply;
      insistence.end();
      expect(content).toMatchObject({
        ename: "Interrupted",
        evalue: "the cell was stopped before it had finished",
      });
    }
    expect((await bench.run("1")).reply.status).toBe("ok");
  });

  it("for comms, history and completion get replies of their own type", async () => {
    const ask = async (type: string, content = {}) => await bench.kernel.client.request(type, content).reply;
    expect((await ask("comm_info_request")).header.msg_type).toBe("comm_info_reply");
    await bench.run("6 * 7");
    const { history } = (await ask("history_request", { hist_access_type: "tail", n: 1, output: true })).content;
    expect(history).toEqual([[1, expect.any(Number), ["6 * 7", "42"]]]);
    const code = '"🛠"; mm(1).isL';
    const { matches, cursor_start } = (await ask("complete_request", { code, cursor_pos: [...code].length })).content;
    expect([matches, cursor_start]).toEqual([["isLess"], 11]);
  });

  it("with a wrong signature are dropped without harm", async () => {
    const connection = readConnection(bench.kernel.connectionPath);
    const dealer = new Dealer();
    dealer.connect(address(connection, "shell_port"));
    const forged = {
      identities: [],
      header: header("execute_request", "x"),
      parent: {},
      metadata: {},
      content: { code: "process.exit(9)" },
    };
    await dealer.send(encode("another key", forged));
    await dealer.send([Buffer.from("rubbish")]);
    await expect
      .poll(() => bench.kernel.printedOutside, { timeout: 20_000 })
      .toBe(
        "dialbook kernel: a message with a wrong signature was refused\n" +
          "dialbook kernel: a message without its frames was refused\n",
      );
    dealer.close();
    expect((await bench.run("1")).reply.status).toBe("ok");
    expect(bench.kernel.ended).toBeUndefined();
    expect(readFileSync(bench.kernel.connectionPath, "utf8")).toContain('"ip":"127.0.0.1"');
  });
});

// the last one, for it ends the kernel of the others
it("shuts down with a timer still running, leaves no process and no connection file", async () => {
  const { kernel } = bench;
  expect(statSync(kernel.connectionPath).mode & 0o777).toBe(0o600);
  await bench.run("setInterval(() => undefined, 1000); 1");
  await kernel.shutdown();
  expect(kernel.ended).toMatch(/^ended with exit code 0/);
  expect([alive(kernel.processId!), existsSync(kernel.connectionPath)]).toEqual([false, false]);
});
