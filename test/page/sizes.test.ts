import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { describe, expect, it } from "vitest";

const folder = fileURLToPath(new URL("../../kernel-lib/dist/page/", import.meta.url));
const bytesOf = (name: string): Buffer => readFileSync(join(folder, name));
const manifest = () =>
  JSON.parse(bytesOf("manifest.json").toString()) as {
    pages: Record<string, { script: string; style: string }>;
    files: Record<string, { bytes: number; gzip: number }>;
  };

describe("what the live pages load", () => {
  it("is less than 1.2 MB of script as gzip for the notebook with its formulas, plotly apart", () => {
    const scripts = ["notebook.js", "formulas.js"].map((name) => gzipSync(bytesOf(name)).length);
    expect(scripts[0]! + scripts[1]!).toBeLessThan(1.2e6);
    // formulas are asked for by the notebooks that have some
    expect(bytesOf("notebook.js").includes("KaTeX")).toBe(false);
    expect(bytesOf("notebook.js").includes("newPlot=")).toBe(false);
  });

  it("is a small script for the list", () => {
    expect(gzipSync(bytesOf("list.js")).length).toBeLessThan(20_000);
  });

  it("carries no icon font and names no other host in its styles", () => {
    const style = bytesOf("notebook.css").toString();
    expect(/Font ?Awesome/i.test(style)).toBe(false);
    expect([...style.matchAll(/url\(["']?(https?:)?\/\//g)]).toEqual([]);
  });

  it("is listed in the manifest with the sizes it has", () => {
    const { pages, files } = manifest();
    for (const { script, style } of Object.values(pages)) {
      expect(files[script]?.bytes).toBe(bytesOf(script).length);
      expect(existsSync(join(folder, style))).toBe(true);
    }
    expect(Object.keys(pages)).toEqual(expect.arrayContaining(["notebook", "list"]));
  });
});
