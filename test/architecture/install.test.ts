import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { resolve } from "node:path";
import { expect, it } from "vitest";

const root = resolve(import.meta.dirname, "../..");
const require = createRequire(import.meta.url);

interface Manifest {
  readonly dependencies?: Record<string, string>;
  readonly devDependencies?: Record<string, string>;
}
const manifest = (file: string) => JSON.parse(readFileSync(resolve(root, file), "utf8")) as Manifest;

it("has the command linked by the install, whether or not anything is built", () => {
  expect(existsSync(resolve(root, "node_modules/.bin/dialbook"))).toBe(true);
});

it("pins every package to one exact version", () => {
  const all = ["package.json", "kernel-lib/package.json"].map(manifest);
  const loose = all
    .flatMap((m) => Object.entries({ ...m.dependencies, ...m.devDependencies }))
    .filter(([, version]) => !/^\d+\.\d+\.\d+$|^file:|^\*$/.test(version));
  expect(loose).toEqual([]);
});

it("keeps the top level as the design fixes it", () => {
  const known =
    /^(README\.md|DEVELOPERS\.md|package\.json|package-lock\.json|kernel-lib|notebooks|data|test|LICENSE|tsconfig\.json|biome\.json|vitest\.config\.ts|node_modules|build|\..*)$/;
  expect(readdirSync(root).filter((name) => !known.test(name))).toEqual([]);
});

it("has data frames without the tensor package", () => {
  const script = `
    const dfd = require("danfojs-node");
    const df = new dfd.DataFrame({ place: ["A1", "A2", "A1"], z: [1, 2, 3] });
    let refused = "";
    try { require("@tensorflow/tfjs-node").tensor1d([1]); } catch (error) { refused = error.message; }
    console.log(JSON.stringify({ mean: df.column("z").mean(), csv: dfd.toCSV(df), groups: df.groupby(["place"]).col(["z"]).mean().shape, refused }));`;
  const printed = execFileSync(process.execPath, ["-e", script], { cwd: root, encoding: "utf8" });
  expect(JSON.parse(printed)).toEqual({
    mean: 2,
    csv: "place,z\nA1,1\nA2,2\nA1,3\n",
    groups: [2, 2],
    refused: "danfojs: .tensor1d needs a tensor package, which this install leaves out",
  });
});

it("refuses to fetch anything through danfojs", () => {
  const request = require("request") as () => unknown;
  expect(() => request()).toThrow("reading from a network address is left out of this install");
});
