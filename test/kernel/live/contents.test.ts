import { chmodSync, existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import type { FileModel } from "../../../kernel-lib/src/kernel/live/file-model.js";
import { notebookText, readNotebook } from "../../../kernel-lib/src/kernel/notebook-file.js";
import { Bench, notebookOf } from "./a-server.js";

let bench: Bench;
beforeAll(async () => {
  bench = await Bench.start();
});
afterAll(() => bench.server.stop());

const at = (path: string): string => join(bench.project, path);
const read = (path: string): string => readFileSync(at(path), "utf8");
const url = (path: string): string => `/api/contents/${path}`;
const get = (path: string): Promise<FileModel> => bench.json<FileModel>(url(path));
const put = (path: string, model: object): Promise<readonly [number, string]> =>
  bench.refusal(url(path), { method: "PUT", body: JSON.stringify(model) });
const changed = (path: string): string =>
  `${path}: was changed on the disk since this page last saw it; nothing was saved: keep yours under a new name, or load the file from the disk`;

describe("the contents", () => {
  it("list the two folders, and in them all but dot-files", async () => {
    const root = await get("");
    expect((root.content as FileModel[]).map(({ path, type }) => [path, type])).toEqual([
      ["notebooks", "directory"],
      ["data", "directory"],
    ]);
    writeFileSync(at("data/.hidden"), "");
    const data = await get("data");
    expect((data.content as FileModel[]).map(({ path, type, content, hash }) => [path, type, content, hash])).toEqual([
      ["data/checksums.csv", "file", null, null],
      ["data/open.csv", "file", null, null],
      ["data/table-before.csv", "file", null, null],
    ]);
  });

  it("show a notebook as Jupyter's own services expect it", async () => {
    const { content, ...model } = await get("notebooks/one.ipynb");
    expect(model).toMatchObject({
      name: "one.ipynb",
      path: "notebooks/one.ipynb",
      type: "notebook",
      format: "json",
      mimetype: null,
      writable: true,
      hash_algorithm: "sha256",
    });
    expect(model.hash).toMatch(/^[0-9a-f]{64}$/);
    expect(new Date(model.last_modified).toISOString()).toBe(model.last_modified);
    expect(content).toMatchObject({ nbformat: 4, cells: [{ cell_type: "code", source: "1 + 1" }] });
    const bare = await bench.json<FileModel>(`${url("notebooks/one.ipynb")}?content=0&hash=1`);
    expect([bare.content, bare.format, bare.hash]).toEqual([null, null, model.hash]);
  });

  it("say what is wrong with a damaged notebook, one of another format, and one that is not there", async () => {
    writeFileSync(at("notebooks/damaged.ipynb"), '{"cells": [');
    writeFileSync(at("notebooks/old.ipynb"), '{"nbformat": 3, "nbformat_minor": 0, "worksheets": []}');
    expect(await bench.refusal(url("notebooks/damaged.ipynb"))).toEqual([
      400,
      "damaged.ipynb: is not a notebook, or is damaged; restore it from a copy",
    ]);
    expect(await bench.refusal(url("notebooks/old.ipynb"))).toEqual([
      400,
      "old.ipynb: notebook format 3 is not read; open it in Jupyter and save it as format 4",
    ]);
    expect(await bench.refusal(url("notebooks/none.ipynb"))).toEqual([
      404,
      "notebooks/none.ipynb: is not there, it was removed or renamed; open it from the list under the name it has now",
    ]);
    // both can still be looked at as text
    expect((await bench.json<FileModel>(`${url("notebooks/damaged.ipynb")}?type=file&format=text`)).content).toBe(
      '{"cells": [',
    );
  });

  it("give pictures in base64 and refuse them as text", async () => {
    writeFileSync(at("notebooks/dot.png"), Buffer.from([0x89, 0x50, 0x4e, 0x47, 0, 0xff]));
    expect(await get("notebooks/dot.png")).toMatchObject({
      format: "base64",
      mimetype: "image/png",
      content: "iVBORwD/",
    });
    expect(await bench.refusal(`${url("notebooks/dot.png")}?format=text`)).toEqual([
      400,
      "notebooks/dot.png: is no text in UTF-8; open it with the program that made it",
    ]);
  });
});

describe("saving", () => {
  it("changes no byte of a notebook that was only opened, and keeps no marks of trust", async () => {
    const path = "notebooks/same.ipynb";
    const source = join(import.meta.dirname, "../../../notebooks/05-the-table-as-found.ipynb");
    writeFileSync(at(path), notebookText(readNotebook(source)));
    const before = read(path);
    const model = await get(path);
    const content = model.content as { readonly cells: readonly { readonly metadata: object }[] };
    const trusting = {
      ...content,
      cells: content.cells.map((cell) => ({ ...cell, metadata: { ...cell.metadata, trusted: true } })),
    };
    expect((await put(path, { type: "notebook", format: "json", content: trusting, hash: model.hash }))[0]).toBe(200);
    expect(read(path)).toBe(before);
  });

  it("refuses to write over what the page has not seen, and leaves the file as it is", async () => {
    const path = "notebooks/two-hands.ipynb";
    writeFileSync(at(path), notebookOf("1"));
    const { hash, content } = await get(path);
    writeFileSync(at(path), notebookOf("2"));
    expect(await put(path, { content, hash })).toEqual([409, changed(path)]);
    // a page that says nothing of what it saw is held to what this server last showed
    expect(await put(path, { content })).toEqual([409, changed(path)]);
    expect(read(path)).toBe(notebookOf("2"));
    // having seen both, the person may decide for the one in the page
    const { hash: seen } = await get(path);
    expect((await put(path, { content, hash: seen }))[0]).toBe(200);
    expect(readNotebook(at(path)).cells[0]?.source).toBe("1");
  });

  it("tells the second of two tabs that the first has saved", async () => {
    const path = "notebooks/two-tabs.ipynb";
    writeFileSync(at(path), notebookOf("1"));
    const [first, second] = [await get(path), await get(path)];
    const content = JSON.parse(notebookOf("3")) as unknown;
    expect((await put(path, { content, hash: first.hash }))[0]).toBe(200);
    expect(await put(path, { content: second.content, hash: second.hash })).toEqual([409, changed(path)]);
    expect(readNotebook(at(path)).cells[0]?.source).toBe("3");
  });

  it("does not write over a file that no page has opened", async () => {
    writeFileSync(at("data/unseen.csv"), "# title: mine\n");
    expect(await put("data/unseen.csv", { content: "x", format: "text" })).toEqual([409, changed("data/unseen.csv")]);
  });

  it("tells that a file was removed while it was open, and makes it anew for a page that asks for that", async () => {
    const path = "notebooks/removed.ipynb";
    writeFileSync(at(path), notebookOf("1"));
    const { content, hash } = await get(path);
    rmSync(at(path));
    expect(await put(path, { content, hash })).toEqual([
      410,
      `${path}: is no longer on the disk, it was removed or renamed; nothing was saved: write it again, or save it under a new name`,
    ]);
    expect(existsSync(at(path))).toBe(false);
    expect((await put(path, { content }))[0]).toBe(201);
    expect(readNotebook(at(path)).cells[0]?.source).toBe("1");
  });

  it("refuses a notebook that is none", async () => {
    const path = "notebooks/one.ipynb";
    const before = read(path);
    for (const content of [undefined, 7, "text", { cells: 1 }, { nbformat: 3 }]) {
      expect((await put(path, { content, hash: (await get(path)).hash }))[0]).toBe(400);
    }
    expect(read(path)).toBe(before);
  });

  it("never writes over, renames or removes a closed sheet or the list of them", async () => {
    const before = read("data/table-before.csv");
    const { hash } = await get("data/table-before.csv");
    const sentence =
      "data/table-before.csv: was closed on 2026-10-17 and stays as it is; save a correction under a new name";
    expect(await put("data/table-before.csv", { content: "x", format: "text", hash })).toEqual([403, sentence]);
    expect(await bench.refusal(url("data/table-before.csv"), { method: "DELETE" })).toEqual([403, sentence]);
    const body = JSON.stringify({ path: "data/renamed.csv" });
    expect(await bench.refusal(url("data/table-before.csv"), { method: "PATCH", body })).toEqual([403, sentence]);
    expect(await put("data/checksums.csv", { content: "", format: "text" })).toEqual([
      403,
      "data/checksums.csv: is the list of closed sheets, which is not changed here",
    ]);
    expect(read("data/table-before.csv")).toBe(before);
  });

  it.skipIf(process.platform === "win32")(
    "says that a folder is read-only, or a file in the way, and leaves the file whole",
    async () => {
      const below = "notebooks/one.ipynb/two.ipynb";
      expect(await put(below, { content: JSON.parse(notebookOf("1")) as unknown })).toEqual([
        403,
        `${at(below)}: was not written, a file of its name, or of its folder's name, is in the way; choose another path`,
      ]);
      const path = "data/open.csv";
      const before = read(path);
      const { hash } = await get(path);
      chmodSync(bench.project, 0o755);
      chmodSync(at("data"), 0o555);
      // the administrator may write everywhere: the server is somebody else meanwhile
      const asRoot = process.getuid?.() === 0;
      if (asRoot) process.seteuid?.(65534);
      try {
        expect(await put(path, { content: "x", format: "text", hash })).toEqual([
          403,
          `${at(path)}: was not written, the folder or the file may not be written to; change its rights or choose another folder`,
        ]);
        expect(read(path)).toBe(before);
      } finally {
        if (asRoot) process.seteuid?.(0);
        chmodSync(at("data"), 0o755);
      }
    },
  );

  it("opens and saves a notebook of 2,000 cells", async () => {
    const path = "notebooks/long.ipynb";
    writeFileSync(at(path), notebookOf(...Array.from({ length: 2000 }, (_, i) => `const a${i} = ${i};`)));
    const before = read(path);
    const { content, hash } = await get(path);
    expect((content as { readonly cells: readonly unknown[] }).cells).toHaveLength(2000);
    expect((await put(path, { type: "notebook", content, hash }))[0]).toBe(200);
    expect(JSON.parse(read(path))).toEqual(JSON.parse(before));
  });
});

describe("checkpoints", () => {
  it("are kept below build/, the last ten of each file, and bring an earlier version back without losing the later", async () => {
    const path = "notebooks/points.ipynb";
    for (let n = 1; n <= 12; n++) {
      writeFileSync(at(path), notebookOf(String(n)));
      expect((await bench.ask(`${url(path)}/checkpoints`, { method: "POST" })).status).toBe(201);
    }
    const kept = await bench.json<{ readonly id: string }[]>(`${url(path)}/checkpoints`);
    expect(kept).toHaveLength(10);
    writeFileSync(at(path), notebookOf("later"));
    const oldest = kept[0]?.id ?? "";
    expect((await bench.ask(`${url(path)}/checkpoints/${oldest}`, { method: "POST" })).status).toBe(204);
    expect(read(path)).toBe(notebookOf("3"));
    const last = (await bench.json<{ readonly id: string }[]>(`${url(path)}/checkpoints`)).at(-1)?.id ?? "";
    expect(readFileSync(at(`build/checkpoints/${path}/${last}`), "utf8")).toBe(notebookOf("later"));
    expect(await bench.refusal(`${url(path)}/checkpoints/..%2f..%2fone.ipynb`, { method: "POST" })).toEqual([
      404,
      `${path}: has no checkpoint "../../one.ipynb"; take one listed`,
    ]);
    // restoring counts as seen: the page may save what it shows now
    expect((await put(path, { content: JSON.parse(notebookOf("4")) as unknown }))[0]).toBe(200);
  });
});

describe("arranging", () => {
  it("renames a notebook with its checkpoints, and never onto another file", async () => {
    writeFileSync(at("notebooks/before.ipynb"), notebookOf("1"));
    await bench.ask(`${url("notebooks/before.ipynb")}/checkpoints`, { method: "POST" });
    const rename = (path: string) =>
      bench.refusal(url("notebooks/before.ipynb"), { method: "PATCH", body: JSON.stringify({ path }) });
    expect(await rename("notebooks/one.ipynb")).toEqual([
      409,
      "notebooks/one.ipynb: is there already; choose another name, nothing was renamed",
    ]);
    expect(await rename("notebooks/after.txt")).toEqual([
      400,
      "notebooks/after.txt: must end in .ipynb, as notebooks/before.ipynb does",
    ]);
    expect((await rename("../out.ipynb"))[0]).toBe(403);
    expect((await rename("notebooks/after.ipynb"))[0]).toBe(200);
    expect([existsSync(at("notebooks/before.ipynb")), read("notebooks/after.ipynb")]).toEqual([false, notebookOf("1")]);
    expect(await bench.json<unknown[]>(`${url("notebooks/after.ipynb")}/checkpoints`)).toHaveLength(1);
  });

  it("removes into build/removed/, where nothing is lost", async () => {
    writeFileSync(at("notebooks/away.ipynb"), notebookOf("mine"));
    const { status, headers } = await bench.ask(url("notebooks/away.ipynb"), { method: "DELETE" });
    expect(status).toBe(204);
    expect(existsSync(at("notebooks/away.ipynb"))).toBe(false);
    const [id = ""] = readdirSync(at("build/removed"));
    expect(headers["dialbook-removed-to"]).toBe(`build/removed/${id}/notebooks/away.ipynb`);
    expect(read(`build/removed/${id}/notebooks/away.ipynb`)).toBe(notebookOf("mine"));
    expect((await bench.ask(url("notebooks"), { method: "DELETE" })).status).toBe(400);
  });

  it("brings a removed file back where it was, and never onto another", async () => {
    const back = (id: string) => bench.refusal("/dialbook/back", { method: "POST", body: JSON.stringify({ id }) });
    const removed = async () =>
      (await bench.json<{ readonly removed: { readonly id: string; readonly path: string }[] }>("/dialbook/list"))
        .removed;
    for (const text of ["one", "two"]) {
      writeFileSync(at("notebooks/back.ipynb"), notebookOf(text));
      await bench.ask(url("notebooks/back.ipynb"), { method: "DELETE" });
    }
    const [two, one] = (await removed()).filter(({ path }) => path === "notebooks/back.ipynb");
    expect((await back(two!.id))[0]).toBe(200);
    expect(read("notebooks/back.ipynb")).toBe(notebookOf("two"));
    expect(await back(one!.id)).toEqual([
      409,
      "notebooks/back.ipynb: is there again; rename that one first, nothing was brought back",
    ]);
    expect(await back(two!.id)).toEqual([
      404,
      `there is no removed file "${two!.id}" any more; look at the list again`,
    ]);
    expect(await back("..")).toEqual([404, `there is no removed file ".." any more; look at the list again`]);
    expect(existsSync(at(`build/removed/${two!.id}`))).toBe(false);
  });

  it("copies, and makes a new notebook, under a name that is free", async () => {
    const post = (body: object) => bench.json<FileModel>(url("notebooks"), "POST", body);
    expect((await post({ copy_from: "notebooks/one.ipynb" })).path).toBe("notebooks/one-copy.ipynb");
    expect((await post({ copy_from: "notebooks/one.ipynb" })).path).toBe("notebooks/one-copy-2.ipynb");
    expect(read("notebooks/one-copy-2.ipynb")).toBe(read("notebooks/one.ipynb"));
    const made = await post({ type: "notebook" });
    expect(made.path).toBe("notebooks/new.ipynb");
    expect(readNotebook(at(made.path)).metadata.kernelspec?.name).toBe("dialbook");
  });
});
