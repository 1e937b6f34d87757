import { execFile } from "node:child_process";
import { chmodSync, mkdirSync, readdirSync, readFileSync, renameSync, statSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { promisify } from "node:util";
import { beforeAll, beforeEach, describe, expect, it } from "vitest";
import { built, project, scratch } from "./workplace.js";

interface Started {
  readonly answer: number;
  readonly taken: number;
  readonly kept: boolean;
}

let folder: string;
let sources: string;
const kept = (): string => join(folder, "kept", readdirSync(join(folder, "kept"))[0] ?? "");

beforeAll(built);
beforeEach(() => {
  folder = scratch();
  sources = join(folder, "sources");
  mkdirSync(sources);
  writeFileSync(join(sources, "package.json"), "{}");
  writeFileSync(join(sources, "main.js"), "exports.answer = 2 * require('./part').six;\nexports.file = __filename;\n");
  writeFileSync(join(sources, "part.js"), "exports.six = (() => 6)();\n");
});

/** A process that loads the module with what is kept, and keeps it at its end. */
async function start(file = "main.js", where = "kept"): Promise<Started> {
  const script = `const { CompiledCode } = require(${JSON.stringify(join(project, "kernel-lib/dist/kernel/compiled-code.js"))});
    const code = new CompiledCode(${JSON.stringify(join(folder, where))}, [${JSON.stringify(sources)}]);
    code.use();
    Promise.resolve(require(${JSON.stringify(join(sources, file))}).answer).then((answer) =>
      console.log(JSON.stringify({ answer, taken: code.taken, kept: code.keep() })));`;
  const { stdout } = await promisify(execFile)(process.execPath, ["-e", script]);
  return JSON.parse(stdout);
}

describe("compiled code", () => {
  it("is kept by the first start and taken by the next, readable and writable by its owner alone", async () => {
    expect(await start()).toEqual({ answer: 12, taken: 0, kept: true });
    expect(await start()).toEqual({ answer: 12, taken: 2, kept: false });
    if (process.platform !== "win32") expect(statSync(kept()).mode & 0o777).toBe(0o600);
  });

  it("is not taken when damaged, cut short or empty, and is kept anew then", async () => {
    await start();
    const whole = readFileSync(kept());
    const damaged = Buffer.from(whole);
    damaged[whole.length - 40]! ^= 1;
    for (const bytes of [damaged, whole.subarray(0, whole.length - 9), whole.subarray(0, 20), Buffer.alloc(0)]) {
      writeFileSync(kept(), bytes);
      expect(await start()).toEqual({ answer: 12, taken: 0, kept: true });
      expect(await start()).toEqual({ answer: 12, taken: 2, kept: false });
    }
  });

  it("of another engine is left alone", async () => {
    await start();
    renameSync(kept(), join(folder, "kept", "v99.0.0-x64-1.bin"));
    expect(await start()).toEqual({ answer: 12, taken: 0, kept: true });
    expect(readdirSync(join(folder, "kept"))).toHaveLength(2);
    for (let k = 0; k < 6; k++) writeFileSync(join(folder, "kept", `v9${k}.0.0-x64-1.bin`), "");
    // with a source changed it is kept once more, and those of the last four engines stay
    writeFileSync(join(sources, "part.js"), "exports.six = 3 + 3;\n");
    expect(await start()).toEqual({ answer: 12, taken: 1, kept: true });
    expect(readdirSync(join(folder, "kept"))).toHaveLength(4);
  });

  it("of another file is not taken, though it is as long", async () => {
    await start();
    writeFileSync(join(sources, "part.js"), "exports.six = (() => 7)();\n");
    expect(await start()).toEqual({ answer: 14, taken: 1, kept: true });
    expect(await start()).toEqual({ answer: 14, taken: 2, kept: false });
  });

  it("that others may write to is not taken", async () => {
    if (process.platform === "win32") return;
    await start();
    chmodSync(kept(), 0o666);
    expect(await start()).toEqual({ answer: 12, taken: 0, kept: true });
  });

  it("that can't be kept is no harm", async () => {
    writeFileSync(join(folder, "in-the-way"), "");
    expect(await start("main.js", "in-the-way")).toEqual({ answer: 12, taken: 0, kept: false });
    expect(await start("main.js", join("in-the-way", "deeper"))).toEqual({ answer: 12, taken: 0, kept: false });
  });

  it("is whole when several start at once", async () => {
    const all = await Promise.all([start(), start(), start()]);
    expect(all.map(({ answer }) => answer)).toEqual([12, 12, 12]);
    expect(await start()).toEqual({ answer: 12, taken: 2, kept: false });
    expect(readdirSync(join(folder, "kept"))).toHaveLength(1);
  });

  it("is not kept of a module that asks for others while it runs, and says of a slip what Node says", async () => {
    writeFileSync(join(sources, "other.mjs"), "export default 5;\n");
    writeFileSync(join(sources, "asks.js"), "exports.answer = import('./other.mjs').then((found) => found.default);\n");
    expect(await start("asks.js")).toEqual({ answer: 5, taken: 0, kept: false });
    writeFileSync(join(sources, "slip.js"), "exports.answer = ;\n");
    await expect(start("slip.js")).rejects.toThrow("SyntaxError: Unexpected token ';'");
  });
});
