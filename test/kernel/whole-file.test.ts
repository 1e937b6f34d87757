import { execFileSync, spawnSync } from "node:child_process";
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { readNotebook, writeNotebook } from "../../kernel-lib/src/kernel/notebook-file.js";
import { notWritten, writeWhole } from "../../kernel-lib/src/kernel/whole-file.js";
import { refusal } from "../refusal.js";
import { notebook, scratch } from "./workplace.js";

it.each([
  ["ENOSPC", "the disk is full; make room and run it again"],
  ["EROFS", "the disk is read-only; choose a folder on another one"],
  ["EACCES", "the folder or the file may not be written to; change its rights or choose another folder"],
  ["EPERM", "the folder or the file may not be written to; change its rights or choose another folder"],
  ["EBUSY", "another program holds the file open; close it there and run it again"],
  ["ENAMETOOLONG", "its name is too long; choose a shorter one"],
  ["EIO", "EIO; choose another folder"],
])("says in one sentence why a file was not written: %s", (code, reason) => {
  const { code: refused, message } = notWritten("a/b.ipynb", Object.assign(new Error("x"), { code }));
  expect([refused, message]).toEqual(["not-written", `a/b.ipynb: was not written, ${reason}`]);
});

it("leaves what is there as it was, and no rest beside it, where the new file can't be put in its place", () => {
  const folder = scratch();
  const path = join(folder, "taken");
  mkdirSync(join(path, "inside"), { recursive: true });
  const taken = "a folder of that name is in the way; choose another name";
  expect(refusal(() => writeWhole(path, "new"))).toEqual({
    code: "not-written",
    message: `${path}: was not written, ${taken}`,
  });
  writeFileSync(join(folder, "file"), "old");
  const below = join(folder, "file", "x.csv");
  expect(refusal(() => writeWhole(below, "new")).message).toBe(
    `${below}: was not written, a file of its name, or of its folder's name, is in the way; choose another path`,
  );
  expect(readFileSync(join(folder, "file"), "utf8")).toBe("old");
  expect(readdirSync(folder).sort()).toEqual(["file", "taken"]);
});

/** a disk of 64 kB in memory, where this machine lets us have one */
function smallDisk(options: string): string | undefined {
  const folder = scratch();
  const { status } = spawnSync("mount", ["-t", "tmpfs", "-o", options, "tmpfs", folder]);
  if (status === 0) return folder;
  console.warn("skipped: a small disk can't be mounted here");
  return undefined;
}

it("keeps the old notebook whole on a full disk", () => {
  const disk = smallDisk("size=64k");
  if (disk === undefined) return;
  try {
    const path = notebook(join(disk, "a.ipynb"), ["1 + 1"]);
    const old = readFileSync(path, "utf8");
    const [cell] = readNotebook(path).cells;
    const large = { ...readNotebook(path), cells: [{ ...cell!, source: "x".repeat(100_000) }] };
    expect(refusal(() => writeNotebook(path, large))).toEqual({
      code: "not-written",
      message: `${path}: was not written, the disk is full; make room and run it again`,
    });
    expect(readFileSync(path, "utf8")).toBe(old);
    expect(readdirSync(disk)).toEqual(["a.ipynb"]);
  } finally {
    execFileSync("umount", [disk]);
  }
});

it("keeps the old file on a read-only disk", () => {
  const disk = smallDisk("size=64k");
  if (disk === undefined) return;
  try {
    writeFileSync(join(disk, "a.csv"), "old");
    execFileSync("mount", ["-o", "remount,ro", disk]);
    expect(refusal(() => writeWhole(join(disk, "a.csv"), "new")).message).toBe(
      `${join(disk, "a.csv")}: was not written, the disk is read-only; choose a folder on another one`,
    );
    expect(readFileSync(join(disk, "a.csv"), "utf8")).toBe("old");
    const deep = join(disk, "build", "report", "a.html");
    expect(refusal(() => writeWhole(deep, "new")).message).toBe(
      `${deep}: was not written, the disk is read-only; choose a folder on another one`,
    );
  } finally {
    execFileSync("umount", [disk]);
  }
});
