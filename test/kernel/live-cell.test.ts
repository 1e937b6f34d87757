import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type Answer, Bench, built } from "./workplace.js";

let bench: Bench;
beforeAll(async () => {
  built();
  bench = await Bench.start("a person");
  await bench.run('import { degC, form, mm, um } from "dialbook";');
});
afterAll(() => bench?.kernel.shutdown());

const shown = ({ published }: Answer, mime = "text/plain"): unknown[] =>
  published.filter(({ type }) => type === "display_data").map(({ content }) => (content.data as never)[mime]);

describe("an error before a person's eyes", () => {
  it("is a box with place, sentence, remedy and offending line; the bare error adds no second text", async () => {
    const answer = await bench.run("const limit = 0.02;\nmm(1).plus(limit)");
    const cell = answer.reply.execution_count;
    expect(answer.published.map(({ type }) => type)).toEqual(["error", "display_data"]);
    expect(answer.published[0]?.content).toMatchObject({ ename: "CompileError", traceback: [] });
    expect(String(shown(answer)[0]).split("\n").slice(0, 5)).toEqual([
      `Compile Error (cell [${cell}], line 2)`,
      "a bare number was given where a length is needed",
      "Give it a unit, as in mm(0.02)",
      "  mm(1).plus(limit)",
      "             ^",
    ]);
    // a front end that stops at errors reads the whole in the reply
    expect(answer.reply.traceback).toHaveLength(4);
  });

  it("folds away the lines of the library, named without the folders of this machine", async () => {
    const answer = await bench.run("// one\nmm(Number.NaN)");
    expect(String(shown(answer)[0])).not.toContain(".js");
    const html = String(shown(answer, "text/html")[0]);
    expect(html).toMatch(/<details><summary>\d+ lines? of the library<\/summary><pre>[^<]*quantity\/\S+\.js line \d+/);
    expect(html).not.toMatch(/node_modules|\/dist\/|\/home|\/tmp/);
  });
});

describe("a cell worth a word", () => {
  it("tells of a heavy loop before it runs", async () => {
    const { published, reply } = await bench.run("let sum = 0;\nfor (let i = 0; i < 1000000; i++) sum += 1;\nsum");
    expect(reply.status).toBe("ok");
    expect(published.map(({ type }) => type)).toEqual(["display_data", "execute_result"]);
    expect(JSON.stringify(published[0]?.content.data)).toContain("line 2: a loop of 1 000 000 rounds");
  });

  it("tells of a name set anew that an earlier result used", async () => {
    await bench.run("const depth = mm(1);");
    const used = (await bench.run("depth.times(2)")).reply.execution_count;
    expect(shown(await bench.run("const depth = mm(3);"))).toEqual([
      `depth is set anew here: the result of cell [${used}] came from the depth before; run it again, or give this one another name`,
    ]);
  });

  it("says nothing about any other", async () => {
    expect((await bench.run("mm(1)")).published.map(({ type }) => type)).toEqual(["execute_result"]);
  });
});
