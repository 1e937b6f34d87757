import { chmodSync, mkdirSync, truncateSync, writeFileSync } from "node:fs";
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

it("refuses a file that is far too large, unread", async () => {
  const file = join(bench.project, "notebooks", "large.ipynb");
  writeFileSync(file, "");
  truncateSync(file, 65e6);
  expect(await bench.refusal("/api/contents/notebooks/large.ipynb", {})).toEqual([
    413,
    "notebooks/large.ipynb: 65 MB, and files up to 64 MB are opened here; clear outputs that are not needed",
  ]);
});

it.skipIf(process.platform === "win32")("says that a file may not be read", async () => {
  const file = join(bench.project, "data", "locked.csv");
  writeFileSync(file, "place\n", { mode: 0 });
  chmodSync(bench.project, 0o755);
  // the administrator may read everything: the server is somebody else meanwhile
  const asRoot = process.getuid?.() === 0;
  if (asRoot) process.seteuid?.(65534);
  try {
    expect(await bench.refusal("/api/contents/data/locked.csv", {})).toEqual([
      403,
      "data/locked.csv: can't be read (EACCES); change the file's rights",
    ]);
  } finally {
    if (asRoot) process.seteuid?.(0);
  }
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
