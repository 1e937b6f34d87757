import { execFileSync } from "node:child_process";
import { existsSync, readFileSync } from "node:fs";
import { resolve } from "node:path";
import { expect, it } from "vitest";
import * as dialbook from "../../kernel-lib/src/index.js";

const root = resolve(import.meta.dirname, "../..");
const readme = readFileSync(resolve(root, "README.md"), "utf8");

it("has a README whose links and pictures exist", () => {
  const targets = [...readme.matchAll(/\]\(([^)#]+)\)/g)].map((found) => found[1] as string);
  expect(targets.length).toBeGreaterThan(5);
  expect(targets.filter((target) => !/^https?:/.test(target) && !existsSync(resolve(root, target)))).toEqual([]);
});

it("has a README whose snippet runs and gives what it says", () => {
  const snippet = /```ts\n([\s\S]*?)```/.exec(readme)?.[1] ?? "";
  const names = (/import \{ (.*?) \}/.exec(snippet)?.[1] ?? "").split(", ");
  const body = snippet.replace(/import .*\n/, "").replace("../data/", `${root}/data/`);
  const lines = body.trimEnd().split("\n");
  const run = new Function(...names, `${lines.slice(0, -1).join("\n")}\nreturn ${lines.at(-1)}`);
  expect(names.length).toBeGreaterThan(3);
  expect(run(...names.map((name) => (dialbook as Record<string, unknown>)[name]))).toBe(1.005);
});

it("has pictures that are what the closed data make them", () => {
  const check = () => execFileSync(process.execPath, ["kernel-lib/scripts/pictures.mjs", "--check"], { cwd: root });
  expect(check).not.toThrow();
});
