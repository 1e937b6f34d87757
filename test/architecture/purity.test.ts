import { readdirSync, readFileSync } from "node:fs";
import { join, relative, resolve } from "node:path";
import { expect, it } from "vitest";

const src = resolve(import.meta.dirname, "../../kernel-lib/src");

/** the only files that may touch the disk, the clock or the running kernel */
const exceptions = [
  /^survey\/files\.ts$/,
  /^proof\/record-file\.ts$/,
  /^display\/preference\.ts$/,
  /^display\/progress\.ts$/,
  /^display\/plotly-loader\.ts$/,
  /^display\/package-files\.ts$/,
  // the text of a script that runs in the reader's browser, nothing of it here
  /^display\/plotly-script\.ts$/,
  /^kernel\//,
];

const impure = /\bDate\b|\bperformance\b|Math\.random|["']node:|\bprocess\.|\bsetTimeout\b|\bsetInterval\b|\bfetch\(/;

it("keeps clock, chance, disk, network and state out of everything but the named files", () => {
  const found = readdirSync(src, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && entry.name.endsWith(".ts"))
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((file) => !exceptions.some((e) => e.test(relative(src, file).replaceAll("\\", "/"))))
    .flatMap((file) =>
      code(readFileSync(file, "utf8"))
        .split("\n")
        .flatMap((line, n) => (impure.test(line) ? [`${relative(src, file)}:${n + 1} ${line.trim()}`] : [])),
    );
  expect(found).toEqual([]);
});

/** the text without its comments, line numbers kept */
function code(text: string): string {
  return text.replace(/\/\*[\s\S]*?\*\//g, (c) => c.replace(/[^\n]/g, "")).replace(/(^|\s)\/\/.*$/gm, "");
}
