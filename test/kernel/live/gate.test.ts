import { symlinkSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { Bench, said } from "./a-server.js";

let bench: Bench;
beforeAll(async () => {
  bench = await Bench.start();
});
afterAll(() => bench.server.stop());

const notIn =
  "this browser has not been let in; open the address printed where the page was started, or press Enter there for a fresh one";
const used =
  "the address was used already, or is not the one printed; press Enter where the page was started for a fresh one";

describe("the way in", () => {
  it("is by a token that works once and buys a cookie that no script and no other site can use", async () => {
    const path = `/${new URL(bench.server.address()).search}`;
    const first = await bench.raw(path, {});
    expect([first.status, first.headers.location]).toEqual([303, "/"]);
    expect(String(first.headers["set-cookie"])).toMatch(/^dialbook-\d+=[\w-]{32}; Path=\/; HttpOnly; SameSite=Strict$/);
    const second = await bench.raw(path, {});
    expect([second.status, said(second.text)]).toEqual([403, used]);
  });

  it("stays shut for a wrong token, no token, and a cookie of somebody else", async () => {
    const wrong = await bench.raw("/?token=AAAAAAAAAAAAAAAAAAAAAAAAAAAAAAAA", {});
    expect([wrong.status, said(wrong.text)]).toEqual([403, used]);
    for (const cookie of ["", `dialbook-${bench.server.port}=AAAA`, "other=1"]) {
      for (const path of ["/", "/api/contents", "/asset/list.js", "/files/notebooks/one.ipynb", "/dialbook/list"]) {
        const { status, text } = await bench.raw(path, { headers: { cookie } });
        expect([path, status, said(text)]).toEqual([path, 403, notIn]);
      }
    }
  });

  it("shows a person the sentence on a page", async () => {
    const { status, text } = await bench.raw("/", { headers: { accept: "text/html" } });
    expect(status).toBe(403);
    expect(text).toContain(`<p>T${notIn.slice(1)}.</p>`);
  });

  it("is not for a name that leads here by way of another's name server", async () => {
    for (const host of [
      `evil.example:${bench.server.port}`,
      "127.0.0.1",
      "127.0.0.1:1",
      `[::1]:${bench.server.port}`,
    ]) {
      const { port } = bench.server;
      expect(await bench.refusal("/api/contents", { headers: { host, origin: `http://${host}` } })).toEqual([
        421,
        `${JSON.stringify(host)}: this server answers only as 127.0.0.1:${port} or localhost:${port}; open the address it printed`,
      ]);
    }
  });

  it("is not for another page, nor for a write that does not say where it comes from", async () => {
    const only = "only the page of this server may ask for this; open the address it printed";
    for (const origin of [
      "http://evil.example",
      "null",
      `https://127.0.0.1:${bench.server.port}`,
      "http://127.0.0.1:1",
    ]) {
      expect(await bench.refusal("/api/contents", { headers: { origin } })).toEqual([
        403,
        `${JSON.stringify(origin)}: ${only}`,
      ]);
    }
    const { cookie = "" } = bench.ours;
    for (const method of ["PUT", "POST", "PATCH", "DELETE"]) {
      const { status, text } = await bench.raw("/api/contents/notebooks/one.ipynb", { method, headers: { cookie } });
      expect([status, said(text)]).toEqual([403, `a request without its origin: ${only}`]);
    }
  });

  it("holds websockets to the same, and needs their origin always", async () => {
    const refused = (headers: { readonly [name: string]: string }): Promise<string> =>
      new Promise((resolve) => {
        const socket = bench.socket("/api/kernels/none/channels", [], headers);
        socket.on("unexpected-response", (_, response) => {
          let text = "";
          response.on("data", (chunk: Buffer) => (text += chunk));
          response.on("end", () => resolve(`${response.statusCode} ${said(text)}`));
        });
        socket.on("error", () => undefined);
      });
    const { cookie = "", origin = "" } = bench.ours;
    expect(await refused({ origin })).toBe(`403 ${notIn}`);
    expect(await refused({ cookie })).toMatch(/^403 a request without its origin: only the page of this server/);
    expect(await refused({ cookie, origin: "http://evil.example" })).toMatch(/^403 "http:\/\/evil.example": only/);
    expect(await refused({ cookie, origin, host: "evil.example" })).toMatch(/^421 "evil.example": this server answers/);
    expect(await refused({ cookie, origin })).toBe('404 there is no kernel "none" any more; run a cell to start one');
  });
});

describe("every answer", () => {
  it("carries the policy that lets only this server's scripts run and nothing else be asked", async () => {
    const { port } = bench.server;
    for (const path of ["/", "/notebook?path=notebooks/one.ipynb", "/api/contents", "/nothing", "/asset/list.js"]) {
      const { headers } = await bench.ask(path);
      expect(headers["content-security-policy"]).toBe(
        `default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data: blob:; font-src 'self' data:; connect-src 'self' ws://127.0.0.1:${port} ws://localhost:${port}; worker-src 'self' blob:; base-uri 'none'; form-action 'self'; frame-ancestors 'none'`,
      );
      expect([headers["x-content-type-options"], headers["referrer-policy"]]).toEqual(["nosniff", "no-referrer"]);
    }
    const file = await bench.ask("/files/notebooks/one.ipynb");
    expect(String(file.headers["content-security-policy"])).toMatch(/^sandbox; default-src 'none';/);
  });

  it("writes what it is told into the shell as text", async () => {
    const headers = { accept: "text/html" };
    const { text } = await bench.ask(`/notebook?path=${encodeURIComponent("notebooks/</script><b>.ipynb")}`, {
      headers,
    });
    expect(text).toContain("&#60;/script&#62;&#60;b&#62;");
    expect(text).not.toContain("<b>");
    const { status, text: shell } = await bench.ask("/notebook?path=notebooks/a%26b.ipynb");
    expect(status).toBe(200);
    expect(shell).toContain("<title>a&#38;b.ipynb</title>");
    expect(shell).toMatch(/<script src="\/asset\/notebook\.js\?v=\d+-\d+" defer><\/script>/);
  });
});

describe("a path", () => {
  const refusedAs = (path: string, problem: string): string =>
    `${JSON.stringify(path)}: ${problem}; only files of this project's notebooks/ and data/ are opened here`;

  it("that climbs out is refused, in whatever way it is written", async () => {
    writeFileSync(join(bench.project, "secret.txt"), "secret");
    const climbs: readonly (readonly [sent: string, seen: string, problem: string])[] = [
      ["notebooks/../secret.txt", "notebooks/../secret.txt", "climbs out of the folder"],
      ["notebooks/%2e%2e/secret.txt", "notebooks/../secret.txt", "climbs out of the folder"],
      ["notebooks%2f..%2fsecret.txt", "notebooks/../secret.txt", "climbs out of the folder"],
      ["notebooks/..%5csecret.txt", "notebooks/..\\secret.txt", "holds a backward stroke"],
      ["notebooks/%2e%2e%2fsecret.txt", "notebooks/../secret.txt", "climbs out of the folder"],
      ["%2fetc%2fpasswd", "/etc/passwd", "is not below the folder"],
      ["//etc/passwd", "//etc/passwd", "is not below the folder"],
      ["C:%5cboot.ini", "C:\\boot.ini", "is not below the folder"],
      ["notebooks/one%00.ipynb", "notebooks/one\0.ipynb", "holds a sign that no name may hold"],
    ];
    for (const [sent, seen, problem] of climbs) {
      for (const service of ["/api/contents/", "/files/"]) {
        const [status, sentence] = await bench.refusal(`${service}${sent}`);
        if (seen.startsWith("/")) expect([sent, status]).toEqual([sent, 403]);
        else expect([sent, status, sentence]).toEqual([sent, 403, refusedAs(seen, problem)]);
      }
    }
    expect(await bench.refusal("/api/contents/notebooks/%c0%ae%c0%ae/secret.txt")).toEqual([
      400,
      '"/api/contents/notebooks/%c0%ae%c0%ae/secret.txt": is no address in UTF-8; open the page from its list',
    ]);
    // encoded twice it is a name like another, and not there
    expect((await bench.ask("/api/contents/notebooks/%252e%252e/secret.txt")).status).toBe(404);
  });

  it("through a link that leads out is refused, to read and to write", async () => {
    writeFileSync(join(bench.project, "outside.ipynb"), "{}");
    symlinkSync(join(bench.project, "outside.ipynb"), join(bench.project, "notebooks/link.ipynb"));
    symlinkSync(bench.project, join(bench.project, "data/up"));
    for (const path of ["notebooks/link.ipynb", "data/up/outside.ipynb", "data/up/new.ipynb"]) {
      const sentence = refusedAs(path, "leads out of the folder by a link");
      expect(await bench.refusal(`/api/contents/${path}`)).toEqual([403, sentence]);
      expect(await bench.refusal(`/api/contents/${path}`, { method: "PUT", body: "{}" })).toEqual([403, sentence]);
    }
  });

  it("to a dot-file, or to another folder, is refused", async () => {
    const dot = "files that begin with a dot are not opened here";
    for (const path of ["notebooks/.env", "data/.git/config"]) {
      expect(await bench.refusal(`/api/contents/${path}`)).toEqual([403, `"${path}": ${dot}`]);
    }
    for (const path of ["build/live", "package.json", "kernel-lib/src/index.ts"]) {
      expect(await bench.refusal(`/api/contents/${path}`)).toEqual([
        403,
        `"${path}": only what lies in notebooks/ or data/ is opened here; copy the file there`,
      ]);
    }
    expect((await bench.ask("/asset/..%2f..%2fpackage.json")).status).toBe(404);
  });
});

describe("a body", () => {
  it("that is not JSON, or no object, is refused", async () => {
    const sentence = "the request is not one JSON object; nothing was changed: load the page again";
    for (const body of ["{", "[1]", "7", "\ufeff"]) {
      expect(await bench.refusal("/api/sessions", { method: "POST", body })).toEqual([400, sentence]);
      expect(await bench.refusal("/api/contents/notebooks/one.ipynb", { method: "PUT", body })).toEqual([
        400,
        sentence,
      ]);
    }
  });

  it("that is too large is refused in a sentence, and the connection goes on", async () => {
    expect(await bench.refusal("/api/sessions", { method: "POST", body: Buffer.alloc(1_000_001, 32) })).toEqual([
      413,
      "the request is larger than 1 MB, which is the most taken here; nothing was changed: clear outputs that are not needed, or split the file",
    ]);
    expect((await bench.ask("/api")).status).toBe(200);
  });
});

it("has nothing at other addresses, and takes no other method", async () => {
  expect(await bench.refusal("/api/nbconvert")).toEqual([404, "/api/nbconvert: there is nothing at this address"]);
  expect(await bench.refusal("/api/status", { method: "DELETE" })).toEqual([405, "/api/status: does not take DELETE"]);
});
