import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeEach, describe, expect, it } from "vitest";
import { Refused } from "../../../kernel-lib/src/kernel/live/refused.js";
import type { Answer, Json } from "../../../kernel-lib/src/kernel/live/route.js";
import { sheetRoutes } from "../../../kernel-lib/src/kernel/live/sheet-routes.js";
import { closeSheet } from "../../../kernel-lib/src/survey/files.js";
import { sampleText } from "../../page/sheet-sample.js";

const project = mkdtempSync(join(tmpdir(), "dialbook-sheet-"));
const file = join(project, "data", "corner.csv");
afterAll(() => rmSync(project, { recursive: true, force: true }));

const readsIt = 'readSurvey("../data/corner.csv")';
const cell = { cell_type: "code", id: "a1", metadata: {}, execution_count: null, outputs: [], source: readsIt };

beforeEach(() => {
  rmSync(join(project, "data"), { recursive: true, force: true });
  mkdirSync(join(project, "data"));
  mkdirSync(join(project, "notebooks"), { recursive: true });
  writeFileSync(file, sampleText());
  const notebook = { nbformat: 4, nbformat_minor: 5, metadata: {}, cells: [cell] };
  writeFileSync(join(project, "notebooks", "corner.ipynb"), JSON.stringify(notebook));
});

const routes = sheetRoutes({ project, pageFolder: project, scratch: project });

async function ask(method: string, address: string, body: Json = {}): Promise<Answer & { json: Json }> {
  const { pathname, searchParams } = new URL(address, "http://here");
  const route = routes.find((one) => one.method === method && one.path === pathname)!;
  return (await route.answer({
    method,
    open: {},
    query: searchParams,
    headers: {},
    host: "127.0.0.1:1",
    body: async () => Buffer.from(JSON.stringify(body)),
    json: async () => body,
  })) as Answer & { json: Json };
}

const load = async () => (await ask("GET", "/dialbook/sheet?path=data/corner.csv")).json;
const put = async (edits: readonly unknown[], base: unknown) =>
  ask("PUT", "/dialbook/sheet", { path: "data/corner.csv", base, edits });

async function refused(asked: Promise<unknown>): Promise<readonly [number, string]> {
  try {
    await asked;
  } catch (error) {
    if (error instanceof Refused) return [error.status, error.message];
    throw error;
  }
  throw new Error("was answered, but a refusal was expected");
}

describe("the addresses of the reading sheet", () => {
  it("give the sheet with its version, its state and the notebooks that read it", async () => {
    const sheet = await load();
    expect(sheet).toMatchObject({ path: "data/corner.csv", name: "corner.csv", state: "open", text: sampleText() });
    expect(sheet.notebooks).toEqual(["notebooks/corner.ipynb"]);
    const again = await ask("GET", `/dialbook/sheet?path=data/corner.csv&known=${sheet.version}`);
    expect(again.json).toEqual({ same: true });
  });

  it("write the cells that were edited and no other byte, and answer with the new version", async () => {
    const { version } = await load();
    const edits = [
      { row: 2, column: 3, to: "12" },
      { head: "vice", to: "off" },
    ];
    const { json } = await put(edits, version);
    expect(readFileSync(file, "utf8")).toBe(
      sampleText().replace("A1,0,0,,1", "A1,0,0,12,1").replace("# vice:", "# vice: off"),
    );
    expect((await load()).version).toBe(json.version);
  });

  it("keep a byte order mark and foreign line ends", async () => {
    const foreign = `\uFEFF${sampleText().replaceAll("\n", "\r\n")}`;
    writeFileSync(file, foreign);
    await put([{ row: 2, column: 3, to: "-1" }], (await load()).version);
    expect(readFileSync(file, "utf8")).toBe(foreign.replace("A1,0,0,,1", "A1,0,0,-1,1"));
  });

  it("write nothing over a file that was changed meanwhile, and send it along", async () => {
    const { version } = await load();
    const other = sampleText().replace("A2,40,0,,1", "A2,40,0,7,1");
    writeFileSync(file, other);
    const answer = await put([{ row: 2, column: 3, to: "12" }], version);
    expect(answer.status).toBe(409);
    expect(answer.json).toMatchObject({
      reason: "changed-on-disk",
      message:
        "data/corner.csv: was changed on the disk since this page last saw it; nothing was written over it, both are shown place by place",
      disk: { text: other },
    });
    expect(readFileSync(file, "utf8")).toBe(other);
  });

  it("write nothing into a closed sheet, and save a correction under a new name with what and why", async () => {
    const { version } = await load();
    closeSheet(file, "2026-11-29");
    expect(await refused(put([{ row: 2, column: 3, to: "12" }], version))).toEqual([
      403,
      "data/corner.csv: was closed on 2026-11-29 and stays as it is; save a correction under a new name",
    ]);
    const copy = (to: string, reason: string) =>
      ask("POST", "/dialbook/sheet/copy", { path: "data/corner.csv", to, reason });
    expect((await copy("corner-2.csv", "A1 was a slip of the pen")).json).toEqual({ path: "data/corner-2.csv" });
    expect(readFileSync(join(project, "data", "corner-2.csv"), "utf8")).toBe(
      sampleText().replace(
        "place,x/mm",
        "# note: correction of corner.csv, closed on 2026-11-29: A1 was a slip of the pen\nplace,x/mm",
      ),
    );
    expect(await refused(copy("corner-2.csv", "again"))).toEqual([
      409,
      "data/corner-2.csv: is there already; choose a name that is free",
    ]);
    expect(await refused(copy("corner-3.csv", " "))).toEqual([
      400,
      "corner.csv: the correction has no reason; say in a few words what is corrected",
    ]);
    expect((await refused(copy("../x.csv", "y")))[1]).toBe(
      '"../x.csv": is no name for a sheet; use letters, digits, - and _ and the ending .csv',
    );
  });

  it("refuse what is no sheet, what lies elsewhere and edits that make no sense", async () => {
    const sheet = (path: string) => refused(ask("GET", `/dialbook/sheet?path=${encodeURIComponent(path)}`));
    expect(await sheet("notebooks/corner.ipynb")).toEqual([
      400,
      "notebooks/corner.ipynb: is no sheet of readings; open a .csv file from data/",
    ]);
    writeFileSync(join(project, "data", "book.xlsx"), "PK");
    expect((await sheet("data/book.xlsx"))[1]).toMatch(/^data\/book.xlsx: is a workbook; save its sheet as CSV/);
    expect((await sheet("data/../../etc/passwd"))[0]).toBe(403);
    writeFileSync(join(project, "data", "wide.csv"), Buffer.from("\uFEFFplace,x/mm", "utf16le"));
    expect((await sheet("data/wide.csv"))[1]).toBe(
      "data/wide.csv: is no UTF-8 text and can't be typed into here; save the sheet as CSV (UTF-8) and open that file",
    );
    const { version } = await load();
    for (const edit of [{ row: -1, column: 0, to: "" }, { row: 0, column: 0 }, { head: "a:b", to: "" }, "x", null]) {
      expect((await refused(put([edit], version)))[1]).toBe(
        "data/corner.csv: the edits are not understood; nothing was saved: load the page again",
      );
    }
    expect(readFileSync(file, "utf8")).toBe(sampleText());
  });

  it("say what the survey's own checks find, or why they cannot run yet", async () => {
    const health = async () => (await ask("GET", "/dialbook/sheet/health?path=data/corner.csv")).json;
    expect(await health()).toMatchObject({ findings: [] });
    const read = [0, 0, 4, 1200, 5, 6, 4, 5, 1, 0, 5, 4, 6, 5, 5, 4, 0, 0];
    const edits = read.map((z, row) => ({ row, column: 3, to: String(z) }));
    await put(edits, (await load()).version);
    const found = (await health()).findings as { check: string; what: string }[];
    expect(found.find(({ check }) => check === "range")?.what).toBe(
      "readings span 1200 µm and the gauge has a range of 1000 µm",
    );
    writeFileSync(file, sampleText().replace("# +y: back\n", ""));
    expect((await health()).sentence).toMatch(/^corner.csv: the sheet does not say which way the map lies/);
  });
});
