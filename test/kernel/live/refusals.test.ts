import { mkdirSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, it } from "vitest";
import { Bench } from "./a-server.js";

let bench: Bench;
beforeAll(async () => {
  bench = await Bench.start();
  mkdirSync(join(bench.project, "notebooks", "folder"));
});
afterAll(() => bench.server.stop());

const patch = (to: object) => ({ method: "PATCH", body: JSON.stringify(to) });
const put = (body: object) => ({ method: "PUT", body: JSON.stringify(body) });

it.each<[address: string, ask: object, status: number, sentence: string]>([
  ["/api/contents/notebooks/.x", {}, 403, '"notebooks/.x": files that begin with a dot are not opened here'],
  ["/files/notebooks/folder", {}, 400, "notebooks/folder: is a folder; give the path of a file"],
  ["/asset/none.js", {}, 404, '"none.js": the page has no such part; stop it and start it again'],
  ["/api/sessions/x", {}, 404, 'there is no session "x" any more; load the page again'],
  [
    "/api/contents/data/new.csv",
    put({ type: "file", format: "text" }),
    400,
    "data/new.csv: came without its content; nothing was saved",
  ],
  [
    "/api/contents/notebooks/one.ipynb",
    patch({ path: "notebooks/none/one.ipynb" }),
    404,
    "notebooks/none/one.ipynb: its folder is not there; nothing was renamed",
  ],
])("%s is refused with the whole sentence", async (address, ask, status, sentence) => {
  expect(await bench.refusal(address, ask)).toEqual([status, sentence]);
});

it("lets only its own page ask for what changes something", async () => {
  const rest = "only the page of this server may ask for this; open the address it printed";
  const asked = async (origin?: string) => {
    const { cookie } = bench.ours;
    const headers = { cookie: cookie ?? "", ...(origin !== undefined && { origin }) };
    const { text } = await bench.raw("/api/sessions", { method: "POST", headers, body: "{}" });
    return JSON.parse(text).message;
  };
  expect(await asked()).toBe(`a request without its origin: ${rest}`);
  expect(await asked("https://elsewhere.example")).toBe(`"https://elsewhere.example": ${rest}`);
});
