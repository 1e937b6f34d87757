import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { bin, built, project, scratch } from "../kernel/workplace.js";

const act = (command: string, args: readonly string[], cwd: string) =>
  spawnSync(process.execPath, [command, ...args], { cwd, encoding: "utf8" });

describe("an archive of two chapters", () => {
  const folder = scratch();
  const archive = join(folder, "täble as found.tgz");
  let clone = "";
  let packed: ReturnType<typeof act>;

  beforeAll(() => {
    built();
    packed = act(bin, ["pack", "5", "10", "--to", archive], project);
    // a clone with the packages of this one: the install itself is the first of the two commands
    clone = mkdtempSync(join(tmpdir(), "a bare clone "));
    execFileSync("git", ["clone", "-q", `file://${project}`, clone], { stdio: "pipe" });
    execFileSync("cp", ["-a", join(project, "node_modules"), clone]);
  });
  afterAll(() => rmSync(clone, { recursive: true, force: true }));

  it("is made of the chapters, their data and the lock, and says what to do with it", () => {
    expect([packed.status, packed.stderr]).toEqual([0, ""]);
    for (const path of ["notebooks/05-the-table-as-found.ipynb", "data/table-before.csv", "package-lock.json"]) {
      expect(packed.stdout).toContain(`  ${path}\n`);
    }
    expect(packed.stdout).toContain("Somebody else: npm ci, then npm run dialbook -- repeat täble as found.tgz\n");
  });

  it("gives the same numbers on a bare clone, in another folder, and says so", () => {
    const { status, stdout } = act(join(clone, "kernel-lib/bin/dialbook.js"), ["repeat", archive], clone);
    console.log(stdout.trim().split("\n").slice(-3).join("\n"));
    expect(stdout).toContain("versions: all the same\n");
    const [, numbers] = /\nsame numbers: (\d+) numbers in \d+ cells and \d+ figures? compared, all as packed\n/.exec(
      stdout,
    )!;
    expect(Number(numbers)).toBeGreaterThan(300);
    expect(status).toBe(0);
    expect(execFileSync("git", ["status", "--porcelain"], { cwd: clone, encoding: "utf8" })).toBe("");
  });

  it("shows what differs where a number of the archive is not what its files give", () => {
    const to = join(folder, "bent");
    expect(act(bin, ["unpack", archive, to], folder).status).toBe(0);
    const path = join(to, "notebooks", "05-the-table-as-found.ipynb");
    const list = join(to, "contents.json");
    const sum = (file: string) => execFileSync("sha256sum", [file], { encoding: "utf8" }).slice(0, 64);
    const before = sum(path);
    const bent = readFileSync(path, "utf8").replace(/(text\/plain[^\]]*?)31\.4 µm/, "$131.7 µm");
    writeFileSync(path, bent);
    const refused = act(bin, ["repeat", to], folder);
    expect([refused.status, refused.stderr]).toEqual([
      1,
      "dialbook bent: notebooks/05-the-table-as-found.ipynb is not as it was packed; unpack the archive again, or ask for another\n",
    ]);
    writeFileSync(list, readFileSync(list, "utf8").replace(before, sum(path)));
    const { status, stdout } = act(bin, ["repeat", to], folder);
    expect(status).toBe(1);
    expect(stdout).toMatch(/ {2}cell \d+ {2}was .*31\.7 µm.*\n {10}now .*31\.4 µm/);
    expect(stdout).toMatch(/\nother numbers: /);
  });
});

it("is not made where a closed sheet was changed, or a cell stops", () => {
  const folder = scratch();
  execFileSync("cp", ["-r", join(project, "data"), folder]);
  execFileSync("mkdir", [join(folder, "notebooks")]);
  execFileSync("cp", [join(project, "notebooks", "05-the-table-as-found.ipynb"), join(folder, "notebooks")]);
  const sheet = join(folder, "data", "table-before.csv");
  writeFileSync(sheet, readFileSync(sheet, "utf8").replace("17.4", "17.5"));
  const { status, stderr } = act(bin, ["pack", "5"], folder);
  expect([status, stderr]).toEqual([
    1,
    "dialbook pack: 05-the-table-as-found, cell 1, line 3: MeasurementError: table-before.csv: was changed since it was closed on 2026-10-17; put the closed sheet back, and save a correction under a new name; nothing was packed\n",
  ]);
  expect(existsSync(join(folder, "build", "archive"))).toBe(false);
});
