import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

const folder = new URL("../../data/", import.meta.url);
const text = (name: string) => readFileSync(new URL(name, folder), "utf8");
const names = readdirSync(folder);
const closed = text("checksums.csv")
  .trim()
  .split("\n")
  .slice(1)
  .map((row) => row.split(",") as [string, string, string]);

it("is what its script invents, byte for byte", () => {
  const run = spawnSync(process.execPath, [fileURLToPath(new URL("invent.mjs", folder)), "--check"], {
    encoding: "utf8",
  });
  expect([run.status, run.stderr]).toEqual([0, ""]);
});

it("has an entry in its README for every file", () => {
  const readme = text("README.md");
  expect(names.filter((name) => name !== "README.md" && !readme.includes(`\`${name}\``))).toEqual([]);
});

it("says of every sheet that it is invented", () => {
  const sheets = names.filter((name) => name.endsWith(".csv") && !["checksums.csv", "blank-sheet.csv"].includes(name));
  expect(sheets.filter((name) => !text(name).includes("invented"))).toEqual([]);
});

describe("the list of closed sheets", () => {
  it.each(closed)("matches %s, closed on %s", (file, _date, sha256) => {
    expect(
      createHash("sha256")
        .update(readFileSync(new URL(file, folder)))
        .digest("hex"),
    ).toBe(sha256);
  });

  it("leaves the blank sheet open", () => {
    expect(closed.map(([file]) => file)).not.toContain("blank-sheet.csv");
  });
});

it("keeps the truth out of every sheet", () => {
  const heights = /-?\d+\.\d{3}/;
  for (const [file] of closed) {
    const rows = text(file)
      .split("\n")
      .filter((row) => !row.startsWith("#"));
    expect(rows.filter((row) => heights.test(row))).toEqual([]);
  }
});
