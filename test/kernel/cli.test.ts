import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { utils, write } from "@e965/xlsx";
import { afterEach, beforeAll, describe, expect, it, vi } from "vitest";
import { main } from "../../kernel-lib/src/kernel/cli.js";
import { bin, built, notebook, project, scratch } from "./workplace.js";

beforeAll(built);
afterEach(() => vi.restoreAllMocks());

/** exit code and texts of a command run in this process */
async function command(...args: string[]) {
  const texts = { out: "", err: "" };
  vi.spyOn(process.stdout, "write").mockImplementation((text) => (texts.out += text) !== "");
  vi.spyOn(process.stderr, "write").mockImplementation((text) => (texts.err += text) !== "");
  const code = await main(args);
  vi.restoreAllMocks();
  return { code, ...texts };
}

describe("the command line", () => {
  it("says its version and explains itself", async () => {
    const { version } = JSON.parse(readFileSync(join(project, "kernel-lib/package.json"), "utf8"));
    expect(await command("--version")).toEqual({ code: 0, out: `${version}\n`, err: "" });
    const { code, out } = await command("--help");
    expect(code).toBe(0);
    for (const [, name] of out.matchAll(/^ {2}([a-z]+) /gm)) {
      if (name === "dialbook") continue;
      const help = await command(name!, "--help");
      expect([help.code, help.err]).toEqual([0, ""]);
      expect(help.out).toContain(`dialbook ${name}`);
    }
  });

  it.each([
    [[], "dialbook needs a command\n\ndialbook COMMAND …\n\n  new "],
    [
      ["mill"],
      'dialbook knows no command "mill"; it knows new, open, run, check, kernel, print, pictures, pack, unpack, repeat, --help and --version',
    ],
    [["run", "--sav"], "dialbook run: option --sav is not known; is --save meant? --help lists all"],
    [
      ["run", "--quietly"],
      "dialbook run: option --quietly is not known; known are --report, --save, --go-on, --timeout, --jobs, --help",
    ],
    [["run", "--save=02"], "dialbook run: option --save stands by itself; leave out what follows its ="],
    [["check", "--sheet"], "dialbook check: option --sheet needs a word after it; --help says which"],
    [["run", "--timeout", "soon"], 'dialbook run: --timeout "soon" is not a number above 0'],
    [["run", "--jobs", "0"], 'dialbook run: --jobs "0" is not a number above 0'],
    [["check"], "dialbook check: name one sheet; see dialbook check --help"],
    [["kernel"], "dialbook kernel: say add or remove"],
    [["kernel", "move"], 'dialbook kernel: "move" is not known; say add or remove'],
    [["kernel", "add", "x"], 'dialbook kernel: "x" is one word too many; see dialbook kernel --help'],
  ])("answers %j with a sentence and exit code 2", async (args, sentence) => {
    const { code, out, err } = await command(...args);
    expect([code, out]).toEqual([2, ""]);
    expect(err.startsWith(sentence)).toBe(true);
  });

  it("refuses an old Node with a sentence", () => {
    const old = join(scratch(), "old-node.cjs");
    writeFileSync(
      old,
      `Object.defineProperty(process, "versions", { value: { ...process.versions, node: "18.20.0" } });`,
    );
    const { status, stderr } = spawnSync(process.execPath, ["--require", old, bin, "--version"], { encoding: "utf8" });
    expect([status, stderr]).toEqual([
      1,
      "dialbook: Node 20.19 or newer is needed, this is 18.20.0; install it from nodejs.org\n",
    ]);
  });
});

it("makes the kernel known and takes it away, but no kernel of another program", () => {
  const folder = scratch();
  const act = (...args: string[]) =>
    spawnSync(process.execPath, [bin, "kernel", ...args], {
      encoding: "utf8",
      env: { ...process.env, JUPYTER_DATA_DIR: folder },
    });
  const file = join(folder, "kernels", "mine", "kernel.json");
  expect(act("add", "--name", "mine").status).toBe(0);
  expect(JSON.parse(readFileSync(file, "utf8")).argv).toEqual([
    process.execPath,
    bin,
    "kernel",
    "serve",
    "{connection_file}",
  ]);
  expect(act("remove", "--name", "mine").status).toBe(0);
  expect(existsSync(file)).toBe(false);
  const { status, stderr } = act("remove", "--name", "mine");
  expect([status, stderr]).toEqual([
    1,
    `dialbook kernel: there is no kernel named "mine" in ${join(folder, "kernels", "mine")}; jupyter kernelspec list says which there are\n`,
  ]);
});

it("reads a sheet and says what is understood, or in one sentence what is not", async () => {
  const good = await command("check", join(project, "data/table-before.csv"));
  expect([good.code, good.err]).toEqual([0, ""]);
  expect(good.out).toMatch(
    /^table-before\.csv: \d+ places against travel, .*\nHealth of table-before\.csv: 0 to stop for, /,
  );
  const none = await command("check", join(project, "data/no-such.csv"));
  expect([none.code, none.out]).toEqual([1, ""]);
  expect(none.err).toMatch(/no-such\.csv.*\n$/);
});

it.each([
  ["positioning-x", /^positioning test: positioning of X: A = 42\.5 µm ± .*\nnote: /],
  ["ladder-x", /^small moves: small moves of X, up and down: play .*\nnote: readings scatter by /],
  ["sweep-head", /^sweep of the spindle: tram: head of the bed mill, before any work, /],
  ["square-y-to-x", /^square: squareness of Y to X: /],
  ["levels-table", /^levels: table of the bed mill by level: flatness relative to gravity /],
  ["gauge-three-days", /^trial of a gauge: .*GRR /],
  ["warm-up-spindle", /^warm-up: spindle nose of the bed mill, .*\nnote: /],
])("checks %s.csv too, by its name alone", async (name, said) => {
  const { code, out, err } = await command("check", name);
  expect([code, err]).toEqual([0, ""]);
  expect(out).toMatch(said);
});

it("checks a sheet of a workbook that has several, once it is named", async () => {
  const file = join(scratch(), "mill.xlsx");
  const book = utils.book_new();
  const text = readFileSync(join(project, "data/odd-first.csv"), "utf8").trimEnd();
  const rows = text.split("\n").map((line) => (line.startsWith("#") ? [line] : line.split(",")));
  utils.book_append_sheet(book, utils.aoa_to_sheet(rows), "evening");
  utils.book_append_sheet(book, utils.aoa_to_sheet([["x"]]), "Sheet2");
  writeFileSync(file, write(book, { type: "buffer", bookType: "xlsx" }));
  expect(await command("check", file)).toEqual({
    code: 1,
    out: "",
    err: 'dialbook mill.xlsx: the workbook has the sheets "evening", "Sheet2"; say which one: --sheet "evening"\n',
  });
  const { code, out } = await command("check", file, "--sheet", "evening");
  expect(code).toBe(0);
  expect(out).toMatch(/^mill\.xlsx: 28 places against travel, /);
});

it("runs chapters, tells what they found, and fails when one does", () => {
  const folder = scratch();
  execFileSync("mkdir", [join(folder, "notebooks")]);
  const finding = `({ [Symbol.for("Jupyter.display")]: () => ({ "text/plain": "x", "application/vnd.dialbook.finding+json": { text: "flat within 23 µm" } }) })`;
  notebook(join(folder, "notebooks", "01-good.ipynb"), ["# The good one", finding]);
  notebook(join(folder, "notebooks", "02-bad.ipynb"), ["mm(1)"]);
  const before = readFileSync(join(folder, "notebooks", "02-bad.ipynb"), "utf8");
  const { status, stdout, stderr } = spawnSync(process.execPath, [bin, "run", "--report", "--save"], {
    cwd: folder,
    encoding: "utf8",
  });
  expect(status).toBe(1);
  expect(stdout).toMatch(/^running 2 chapters, kept in build\/notebooks\n/);
  expect(stdout).toMatch(/01-good {2}cell 1\/1 {2}\d+\.\d s\n/);
  expect(stdout).toContain("What the chapters found:\nThe good one\n  flat within 23 µm\n");
  expect(stderr).toBe(
    "02-bad, cell 1, line 1: does not compile: column 1: 'mm' is not imported yet; write import { mm } from \"dialbook\", or run the cell that does; the notebook itself was left as it was\n",
  );
  expect(readFileSync(join(folder, "notebooks", "02-bad.ipynb"), "utf8")).toBe(before);
  expect(existsSync(join(folder, "build", "notebooks", "02-bad.ipynb"))).toBe(true);
  expect(stdout).toContain("The report: build/report/index.html\n");
  expect(readFileSync(join(folder, "build", "report", "index.html"), "utf8")).toMatch(/flat within 23\sµm/);
});
