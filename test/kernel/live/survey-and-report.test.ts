import { existsSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { ListedFile } from "../../../kernel-lib/src/kernel/live/listed-file.js";
import { parseSurvey } from "../../../kernel-lib/src/survey/index.js";
import { project as repository } from "../workplace.js";
import { Bench } from "./a-server.js";

let bench: Bench;
beforeAll(async () => {
  bench = await Bench.start();
});
afterAll(() => bench.server.stop());

const answers = { name: "my-mill", table: "520 mm x 230 mm", resolution: "2 um", error: "4 um", units: "metric" };
const begin = (given: object) => bench.refusal("/dialbook/new", { method: "POST", body: JSON.stringify(given) });

it("lists notebooks with the question each answers, and sheets as open or closed", async () => {
  const chapter = readFileSync(join(repository, "notebooks/10-the-decision.ipynb"), "utf8");
  writeFileSync(join(bench.project, "notebooks/10-the-decision.ipynb"), chapter);
  writeFileSync(join(bench.project, "notebooks/damaged.ipynb"), "{");
  writeFileSync(join(bench.project, "data/notes.txt"), "buy stones\n");
  const list = await bench.json<{ readonly notebooks: ListedFile[]; readonly data: ListedFile[] }>("/dialbook/list");
  const told = ({ size, modified, ...rest }: ListedFile) => {
    expect(size).toBeGreaterThan(0);
    expect(new Date(modified).toISOString()).toBe(modified);
    return rest;
  };
  expect(list.notebooks.map(told)).toEqual([
    {
      name: "10-the-decision.ipynb",
      path: "notebooks/10-the-decision.ipynb",
      kind: "notebook",
      title: "10. The decision",
      question:
        "Leave the table as it is, stone the rim, or bolt on a plate and face it in place? How deep, and are the screw heads safe?",
    },
    {
      name: "damaged.ipynb",
      path: "notebooks/damaged.ipynb",
      kind: "notebook",
      problem: "damaged.ipynb: is not a notebook, or is damaged; restore it from a copy",
    },
    { name: "one.ipynb", path: "notebooks/one.ipynb", kind: "notebook" },
  ]);
  expect(list.data.map(told)).toEqual([
    { name: "checksums.csv", path: "data/checksums.csv", kind: "other" },
    { name: "notes.txt", path: "data/notes.txt", kind: "other" },
    { name: "open.csv", path: "data/open.csv", kind: "open sheet", title: "open" },
    {
      name: "table-before.csv",
      path: "data/table-before.csv",
      kind: "closed sheet",
      closed: "2026-10-17",
      title: "table of the bed mill, before any work",
    },
  ]);
});

it("begins a survey from a form: notebook, sheet and paper, and nothing in the place of another", async () => {
  const made = await bench.json<{ readonly [file: string]: unknown }>("/dialbook/new", "POST", answers);
  expect(made).toEqual({
    notebook: "notebooks/my-mill.ipynb",
    sheets: ["data/my-mill.csv"],
    paper: "data/my-mill-paper.html",
  });
  const sheet = readFileSync(join(bench.project, "data/my-mill.csv"), "utf8");
  expect(parseSurvey(sheet, { name: "my-mill.csv" }).gauge.resolution.in("um")).toBe(2);
  expect(await begin(answers)).toEqual([
    409,
    `${bench.project}/notebooks/my-mill.ipynb is there already; choose another name, nothing was made`,
  ]);
});

it("begins any other work, and names what it needs", async () => {
  const axis = { name: "my-x", for: "axis", axis: "X", travel: "5 mm to 505 mm", resolution: "1 um", error: "3 um" };
  expect(await begin(axis)).toEqual([400, "reference: is missing; fill it in"]);
  const given = { ...axis, reference: "gauge blocks", table: "520 mm x 230 mm" };
  expect(await begin(given)).toEqual([400, "table is no matter of axis; leave it out"]);
  const made = await bench.json("/dialbook/new", "POST", { ...axis, reference: "gauge blocks" });
  expect(made).toEqual({
    notebook: "notebooks/my-x.ipynb",
    sheets: ["data/my-x.csv", "data/my-x-small-moves.csv"],
    paper: "data/my-x-paper.html",
  });
});

it("refuses what a form leaves out or what can't be read, field by field", async () => {
  expect(await begin({ ...answers, name: "other", error: " " })).toEqual([400, "error: is missing; fill it in"]);
  expect(await begin({ ...answers, name: "other", table: "big" })).toEqual([
    400,
    'table "big" is not length × depth; write it like "520 mm x 230 mm"',
  ]);
  for (const name of ["../other", "a/b", ".hidden", "con"]) expect((await begin({ ...answers, name }))[0]).toBe(400);
  expect(existsSync(join(bench.project, "notebooks/other.ipynb"))).toBe(false);
});

it("gives the report of a notebook as a page of its own, from what it keeps, and says so", async () => {
  const { status, headers, text } = await bench.ask("/dialbook/report?path=notebooks/10-the-decision.ipynb");
  expect([status, headers["content-disposition"]]).toEqual([200, "attachment; filename*=UTF-8''10-the-decision.html"]);
  expect(text).toContain("<h1>10. The decision</h1>");
  expect(text).toContain("<p>From the outputs that 10-the-decision.ipynb keeps</p>");
  expect(text).toContain(
    "from a notebook as it was saved; nothing was run for it; text and code of 10-the-decision: SHA-256",
  );
  expect(text).toContain("26.3 µm ± 5.3 µm");
  expect(text).not.toContain("index.html");
  expect(bench.kernels.started).toEqual([]);
});

it("says in the report where cells were run in another order, and that it was saved so", async () => {
  const cell = (execution_count: number) => ({
    cell_type: "code",
    id: `c${execution_count}`,
    metadata: {},
    source: "1",
    execution_count,
    outputs: [],
  });
  const notebook = { cells: [cell(5), cell(2)], metadata: {}, nbformat: 4, nbformat_minor: 5 };
  writeFileSync(join(bench.project, "notebooks/by-hand.ipynb"), JSON.stringify(notebook));
  const { text } = await bench.ask("/dialbook/report?path=notebooks/by-hand.ipynb");
  expect(text).toContain(
    "The notebook was saved after its cells were run by hand in another order (5, 2), and is shown as saved.",
  );
  expect(await bench.refusal("/dialbook/report?path=notebooks/none.ipynb")).toEqual([
    404,
    "notebooks/none.ipynb: is not there, it was removed or renamed; open it from the list under the name it has now",
  ]);
});
