import { cpSync, mkdirSync, renameSync, rmSync, utimesSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { type Answer, Bench, built, project, scratch } from "../kernel/workplace.js";

// a copy of the package beside the notebook: the one that other tests run stays as it is
const folder = scratch();
const home = join(folder, "node_modules", "dialbook");
const declarations = join(home, "dist", "index.d.ts");
let bench: Bench;
beforeAll(async () => {
  built();
  mkdirSync(home, { recursive: true });
  for (const part of ["package.json", "dist"])
    cpSync(join(project, "kernel-lib", part), join(home, part), { recursive: true });
  bench = await Bench.start("a person", folder);
  await bench.run('import { mm, um } from "dialbook";');
});
afterAll(async () => {
  await bench?.kernel.shutdown();
  rmSync(folder, { recursive: true, force: true });
});

const notices = ({ published }: Answer): string[] =>
  published
    .filter(({ type }) => type === "display_data")
    .map(({ content }) => String((content.data as never)["text/plain"]));
const rebuilt =
  "dialbook was built anew while this kernel ran: cells are checked against the new build and run the old one; restart the kernel";
const pause = "await new Promise((resolve) => setTimeout(resolve, 700));";
const settle = () => new Promise((resolve) => setTimeout(resolve, 700));
let second = 0;
/** a later time of change each time it is called */
function touch(): void {
  const at = Date.now() / 1000 + ++second;
  utimesSync(declarations, at, at);
}

it("is told once, and the cells go on, when a declaration file is touched between cells", async () => {
  touch();
  await settle();
  const first = await bench.run("mm(1).plus(um(5))");
  expect(first.reply.status).toBe("ok");
  expect(notices(first)).toEqual([rebuilt]);
  expect(notices(await bench.run("mm(1).plus(um(6))"))).toEqual([]);
});

it("is told with the next cell when it is touched while a cell waits", async () => {
  const waiting = bench.send(`${pause}\nmm(2)`);
  await new Promise((resolve) => setTimeout(resolve, 200));
  touch();
  expect((await waiting.reply).content.status).toBe("ok");
  const next = await bench.run("mm(3)");
  expect([next.reply.status, notices(next)]).toEqual(["ok", [rebuilt]]);
});

it("is survived when files come, go and change in one stroke, as in a build", async () => {
  for (let round = 0; round < 2; round++) {
    const waiting = bench.send(pause);
    const fresh = `${home}/dist-fresh`;
    cpSync(join(home, "dist"), fresh, { recursive: true });
    rmSync(join(home, "dist"), { recursive: true });
    renameSync(fresh, join(home, "dist"));
    touch();
    writeFileSync(join(folder, `beside-${round}.ts`), "export const beside = 1;\n");
    writeFileSync(join(folder, "node_modules", `beside-${round}.d.ts`), "export declare const beside: number;\n");
    expect((await waiting.reply).content.status).toBe("ok");
    const after = await bench.run("mm(1).plus(um(5))");
    expect([after.reply.status, after.reply.evalue, notices(after)]).toEqual(["ok", undefined, [rebuilt]]);
  }
});

it("finds a file beside the notebook that was not there when a cell first asked for it", async () => {
  expect((await bench.run('import { late } from "./late";')).reply.evalue).toContain("Cannot find module './late'");
  writeFileSync(join(folder, "late.ts"), "export const late = 41;\n");
  // the compiler is told of files by the system, which takes a moment
  const asked = async () => (await bench.run('import { late } from "./late";\nlate + 1')).reply;
  await expect.poll(asked, { timeout: 60_000, interval: 500 }).toMatchObject({ status: "ok" });
});
