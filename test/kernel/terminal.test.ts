import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { afterEach, expect, it, vi } from "vitest";
import { visible } from "../../kernel-lib/src/figure/markup.js";
import { complain, say } from "../../kernel-lib/src/kernel/terminal.js";
import { hostile, unseenSigns } from "../hostile.js";

afterEach(() => vi.restoreAllMocks());

it("writes out what a terminal would obey, and leaves tabs and ends of lines", () => {
  const written: string[] = [];
  for (const stream of [process.stdout, process.stderr])
    vi.spyOn(stream, "write").mockImplementation((text) => written.push(String(text)) > 0);
  say("a\tb\r\nc");
  complain("\u001b[2Jx\u202ey\rz\u009b");
  say(hostile);
  vi.restoreAllMocks();
  expect(written.slice(0, 2)).toEqual(["a\tb\nc\n", "\\u001b[2Jx\\u202ey\\u000dz\\u009b\n"]);
  expect(written[2]?.replaceAll("\n", "")).not.toMatch(unseenSigns);
});

it("leaves words of every language as they are", () => {
  const words = "Größe µm ± 3 — ξ η, שלום, مرحبا, 表面, ‘’“” 👍\u200d";
  expect(visible(words)).toBe(words);
});

it("is the only way from the commands to the terminal", () => {
  const kernel = resolve(import.meta.dirname, "../../kernel-lib/src/kernel");
  const others = readdirSync(kernel, { recursive: true, encoding: "utf8" })
    .filter((file) => file.endsWith(".ts") && file !== "terminal.ts")
    .filter((file) => /std(?:out|err)\.write\(|console\./.test(readFileSync(join(kernel, file), "utf8")));
  expect(others).toEqual([]);
});
