import { mkdirSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { Bench, built, scratch } from "./workplace.js";

let bench: Bench;
beforeAll(async () => {
  built();
  const folder = scratch();
  const types = join(folder, "node_modules", "@types", "wheels");
  mkdirSync(types, { recursive: true });
  writeFileSync(join(types, "package.json"), '{ "name": "@types/wheels", "version": "1.0.0", "types": "index.d.ts" }');
  writeFileSync(join(types, "index.d.ts"), "declare namespace Wheels { interface Wheel { teeth: number } }\n");
  bench = await Bench.start(undefined, folder);
});
afterAll(() => bench?.kernel.shutdown());

it("a slip of the pen stays one", async () => {
  const { reply } = await bench.run("const wheel: Wheel = { teeth: 20 };");
  expect(reply.evalue).toContain("Wheel");
});

it("a name that a package of @types declares for everywhere is known in the cell that needs it and in later ones", async () => {
  expect((await bench.run("const wheel: Wheels.Wheel = { teeth: 20 };\nwheel.teeth")).reply.status).toBe("ok");
  const { reply } = await bench.run('const other: Wheels.Wheel = { teeth: "many" };');
  expect(reply).toMatchObject({ status: "error", ename: "CompileError" });
});

it("Node's own names are known beside them", async () => {
  const { published } = await bench.run('import { sep } from "node:path";\n[typeof sep, process.argv.length > 0]');
  expect(published.map(({ content }) => (content.data as never)["text/plain"])).toEqual(["[ 'string', true ]"]);
});
