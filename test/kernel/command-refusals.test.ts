import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, expect, it, vi } from "vitest";
import { main } from "../../kernel-lib/src/kernel/cli.js";
import { readConnection } from "../../kernel-lib/src/kernel/connection-file.js";
import { printedBy } from "../../kernel-lib/src/kernel/installed-browser.js";
import { refusal } from "../refusal.js";
import { notebook, scratch } from "./workplace.js";

const folder = scratch();
// beyond this project, which has notebooks
const empty = mkdtempSync(join(tmpdir(), "empty "));
beforeAll(() => {
  mkdirSync(join(folder, "notebooks"));
  notebook(join(folder, "notebooks", "01-one.ipynb"), ["1"]);
});
afterAll(() => rmSync(empty, { recursive: true, force: true }));
afterEach(() => {
  vi.restoreAllMocks();
  vi.unstubAllEnvs();
});

/** exit code and complaint of a command in a folder */
async function told(where: string, ...args: string[]): Promise<readonly [code: number, complaint: string]> {
  let complaint = "";
  vi.spyOn(process, "cwd").mockReturnValue(where);
  vi.spyOn(process.stdout, "write").mockReturnValue(true);
  vi.spyOn(process.stderr, "write").mockImplementation((text) => (complaint += text) !== "");
  return [await main(args), complaint];
}

it.each<[args: string[], complaint: string]>([
  [["open", "x"], 'open: "x" is one word too many; see dialbook open --help'],
  [["open", "--port", "80"], 'open: --port "80" is no port from 1024 to 65535; leave it out for the project\'s own'],
  [["pack", "--timeout", "soon"], 'pack: --timeout "soon" is not a number above 0'],
  [["pack", "--to", "a.zip"], 'pack: --to "a.zip" is no .tgz file; give one such as my-table.tgz'],
  [["print"], "print: name one page; see dialbook print --help"],
  [["print", "a", "--paper", "A3"], 'print: --paper "A3" is not known; give A4 or Letter'],
  [["repeat"], "repeat: name one archive; see dialbook repeat --help"],
  [["repeat", "a.tgz", "--timeout", "0"], 'repeat: --timeout "0" is not a number above 0'],
  [["unpack"], "unpack: name one archive and at most a folder; see dialbook unpack --help"],
])("%j is misuse, and said so in one sentence", async (args, complaint) => {
  expect(await told(folder, ...args)).toEqual([2, `dialbook ${complaint}\n`]);
});

it.each<[where: string, args: string[], complaint: string]>([
  [
    empty,
    ["open"],
    `open: there is no folder notebooks/ in ${empty} or above it; go to the folder of your notebooks, or begin one with dialbook new`,
  ],
  [
    folder,
    ["print", "none"],
    'print: there is no page "none"; give an .html file, or make the report first: dialbook run --report',
  ],
  // a path is told as it lies from here, however it was given
  [
    folder,
    ["unpack", join(folder, "sent", "a.tgz")],
    `${join("sent", "a.tgz")}: there is no such archive; give the path of a .tgz file`,
  ],
  [
    join(folder, "notebooks"),
    ["repeat", join(folder, "a.tgz")],
    `${join("..", "a.tgz")}: there is no such archive; give the path of a .tgz file`,
  ],
])("in %s, %j can't be done, and says why", async (where, args, complaint) => {
  expect(await told(where, ...args)).toEqual([1, `dialbook ${complaint}\n`]);
});

it("says that a folder of notebooks holds none", async () => {
  const bare = scratch();
  mkdirSync(join(bare, "notebooks"));
  expect(await told(bare, "run")).toEqual([
    1,
    `dialbook run: there is no notebook in ${join(bare, "notebooks")}; name one\n`,
  ]);
});

it("says that there is no browser to print with, or that it printed nothing", () => {
  const page = { file: "a.pdf", options: () => [], mark: "%PDF-" };
  vi.stubEnv("CHROMIUM", join(empty, "no-browser"));
  vi.stubEnv("PATH", empty);
  if (process.platform === "linux") {
    expect(refusal(() => printedBy("<p>a", "a.html", page)).message).toBe(
      "print: no browser that prints by itself was found here; open the page in any browser and print it, or set CHROMIUM to the path of one",
    );
  }
  vi.stubEnv("CHROMIUM", process.execPath);
  expect(refusal(() => printedBy("<p>a", "a.html", page)).message).toBe(
    `a.html: ${process.execPath} did not print it (it ended with 9); open the page in a browser and print it there`,
  );
});

it("says that a connection file can't be read", () => {
  const file = join(empty, "connection.json");
  expect(() => readConnection(file)).toThrow(
    new RegExp(`^${file.replaceAll(/[.+()]/g, "\\$&")}: can't be read as a connection file \\(.+\\)$`),
  );
  writeFileSync(file, "{");
  expect(() => readConnection(file)).toThrow(/: can't be read as a connection file \(.+\)$/);
});
