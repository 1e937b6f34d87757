import { readdirSync, readFileSync } from "node:fs";
import { dirname, join, relative, resolve } from "node:path";
import { expect, it } from "vitest";

const src = resolve(import.meta.dirname, "../../kernel-lib/src");

/** each folder may import from itself and from those before it; folders on one line know nothing of each other */
const order: readonly (readonly string[])[] = [
  ["quantity", "numerics"],
  ["uncertainty"],
  ["survey"],
  ["form", "axis", "heat"],
  ["conformity"],
  ["facing"],
  ["decision"],
  ["proof"],
  ["figure"],
  ["display"],
  ["kernel"],
];
const rank = new Map(order.flatMap((folders, place) => folders.map((folder) => [folder, place] as const)));

const files = readdirSync(src, { recursive: true, withFileTypes: true })
  .filter((entry) => entry.isFile() && entry.name.endsWith(".ts"))
  .map((entry) => relative(src, join(entry.parentPath, entry.name)).replaceAll("\\", "/"));

function importsOf(file: string): string[] {
  const text = readFileSync(join(src, file), "utf8");
  return [...text.matchAll(/(?:from|import\(|require\()\s*"(\.[^"]+)"/g)].map((found) =>
    relative(src, resolve(src, dirname(file), found[1] as string))
      .replaceAll("\\", "/")
      .replace(/\.js$/, ".ts"),
  );
}

function allowed(from: string, to: string): boolean {
  const [a, b] = [from.split("/")[0] as string, to.split("/")[0] as string];
  if (to === "measurement-error.ts" || to === "words.ts" || a === b) return true;
  if (from === "index.ts") return true;
  const [ra, rb] = [rank.get(a), rank.get(b)];
  return ra !== undefined && rb !== undefined && rb < ra;
}

it("lets data flow one way: each folder imports only from those before it", () => {
  const wrong = files.flatMap((file) =>
    importsOf(file)
      .filter((to) => !allowed(file, to))
      .map((to) => `${file} imports ${to}`),
  );
  expect(wrong).toEqual([]);
});

it("knows every folder of the source", () => {
  const folders = new Set(files.filter((file) => file.includes("/")).map((file) => file.split("/")[0]));
  expect([...folders].filter((folder) => !rank.has(folder as string))).toEqual([]);
});

it("imports only files that exist, with their ending", () => {
  const known = new Set(files);
  const wrong = files.flatMap((file) =>
    importsOf(file)
      .filter((to) => !known.has(to))
      .map((to) => `${file} imports ${to}`),
  );
  expect(wrong).toEqual([]);
});

it("has no cycle between files", () => {
  const state = new Map<string, "open" | "done">();
  const cycles: string[] = [];
  const visit = (file: string, path: readonly string[]): void => {
    if (state.get(file) === "done") return;
    if (state.get(file) === "open") {
      cycles.push([...path.slice(path.indexOf(file)), file].join(" → "));
      return;
    }
    state.set(file, "open");
    for (const to of runtimeImportsOf(file)) visit(to, [...path, file]);
    state.set(file, "done");
  };
  for (const file of files) visit(file, []);
  expect(cycles).toEqual([]);
});

/** type-only imports vanish when compiled and make no cycle */
function runtimeImportsOf(file: string): string[] {
  const text = readFileSync(join(src, file), "utf8");
  const typeOnly = new Set(
    [...text.matchAll(/(?:import|export) type [^;]*?from\s*"(\.[^"]+)"/g)].map((found) => found[1] as string),
  );
  const kept = [...text.matchAll(/from\s*"(\.[^"]+)"/g)]
    .map((found) => found[1] as string)
    .filter((to) => !typeOnly.has(to));
  return kept.map((to) =>
    relative(src, resolve(src, dirname(file), to))
      .replaceAll("\\", "/")
      .replace(/\.js$/, ".ts"),
  );
}
