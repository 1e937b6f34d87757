import { writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import type { ListedFile } from "../../../kernel-lib/src/kernel/live/listed-file.js";
import { hostile, hostileTexts } from "../../hostile.js";
import { hostileNotebook } from "../hostile-notebook.js";
import { Bench } from "./a-server.js";

const name = `it's (a) & 'q' é`;
let bench: Bench;
beforeAll(async () => {
  bench = await Bench.start();
  writeFileSync(join(bench.project, `notebooks/${name}.ipynb`), hostileNotebook());
  writeFileSync(
    join(bench.project, "data/hostile.csv"),
    `# title: ${hostile.replaceAll("\r", " ")}\nplace,x/mm,y/mm,z/um\nA1,0,0,\n`,
  );
});
afterAll(() => bench.server.stop());

it("lists a hostile notebook and sheet as JSON, which is no page", async () => {
  const { headers, text } = await bench.ask("/dialbook/list", { headers: { accept: "text/html" } });
  expect([headers["content-type"], headers["x-content-type-options"]]).toEqual(["application/json", "nosniff"]);
  const { notebooks, data } = JSON.parse(text) as { readonly notebooks: ListedFile[]; readonly data: ListedFile[] };
  expect(notebooks.find((file) => file.name === `${name}.ipynb`)?.title).toBe(hostile.replaceAll("\r", " ").trim());
  expect(data.find((file) => file.name === "hostile.csv")?.kind).toBe("open sheet");
});

it("gives the report of it under its name, and nothing in it runs", async () => {
  const { status, headers, text } = await bench.ask(
    `/dialbook/report?path=${encodeURIComponent(`notebooks/${name}.ipynb`)}`,
  );
  expect([status, headers["content-disposition"]]).toEqual([
    200,
    "attachment; filename*=UTF-8''it%27s%20%28a%29%20%26%20%27q%27%20%C3%A9.html",
  ]);
  const body = text.slice(text.indexOf("<body>"), text.lastIndexOf("<script>"));
  expect(body).not.toMatch(/<(?:script|style|meta|form|iframe|svg|object|base|link)\b/i);
});

it("refuses hostile paths with a sentence that is text", async () => {
  for (const text of Object.values(hostileTexts)) {
    if (text.includes("\ud800")) continue;
    for (const address of ["/notebook", "/sheet", "/dialbook/report"]) {
      const { status, text: page } = await bench.ask(`${address}?path=${encodeURIComponent(`notebooks/${text}`)}`, {
        headers: { accept: "text/html" },
      });
      expect(page).not.toMatch(/<img|<script>window|<svg|<a href/);
      if (status === 200) expect(page).toContain('<script type="application/json"');
    }
  }
});

it("hands a page of the project on in a frame that runs nothing", async () => {
  writeFileSync(join(bench.project, "data/page.html"), "<script>1</script>");
  const { headers } = await bench.ask("/files/data/page.html");
  expect(headers["content-security-policy"]).toMatch(/^sandbox; default-src 'none'/);
});
