import { existsSync, mkdirSync, readdirSync, utimesSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { afterEach, describe, expect, it } from "vitest";
import { WebSocket } from "ws";
import { LiveServer } from "../../../kernel-lib/src/kernel/live/live-server.js";
import { neighbours } from "../../../kernel-lib/src/kernel/live/neighbours.js";
import { MeasurementError } from "../../../kernel-lib/src/measurement-error.js";
import { aProject, Bench } from "./a-server.js";

const benches: Bench[] = [];
afterEach(async () => {
  for (const bench of benches.splice(0)) await bench.server.stop();
});
async function started(pingEveryMs?: number): Promise<Bench> {
  const bench = await Bench.start(pingEveryMs);
  benches.push(bench);
  return bench;
}

describe("the server", () => {
  it("says that a port is in use and names another", async () => {
    const { server } = await started();
    const second = LiveServer.start({ ...aProject(), port: server.port });
    await expect(second).rejects.toThrow(MeasurementError);
    await expect(second).rejects.toThrow(
      `open: port ${server.port} is in use by another program; give another, like --port ${server.port + 1}, or leave --port out for a free one`,
    );
  });

  it("does not stay behind where it can't keep its own folder", async () => {
    const options = aProject();
    writeFileSync(join(options.project, "build"), "a file in the way");
    const start = LiveServer.start(options);
    await expect(start).rejects.toThrow(MeasurementError);
    await expect(start).rejects.toThrow(
      /build\/live\/\d+-\d+: was not written, a part of its path is a file, not a folder; choose another path$/,
    );
  });

  it("lets a browser keep a script for good under the address with its mark, and asks again under any other", async () => {
    const bench = await started();
    const { text } = await bench.ask("/notebook?path=notebooks/one.ipynb");
    const address = /src="([^"]+)"/.exec(text)?.[1] ?? "";
    const kept = async (path: string, headers = {}) => {
      const { status, headers: told } = await bench.ask(path, { headers });
      return [status, told["cache-control"]];
    };
    expect(await kept(address)).toEqual([200, "private, max-age=31536000, immutable"]);
    expect(await kept("/asset/notebook.js?v=1-2")).toEqual([200, "no-cache"]);
    const { headers } = await bench.ask("/asset/notebook.js");
    expect(await kept("/asset/notebook.js", { "if-none-match": String(headers.etag) })).toEqual([304, "no-cache"]);
    utimesSync(join(bench.project, "page/notebook.js"), 1, 1);
    expect(await kept(address)).toEqual([200, "no-cache"]);
  });

  it("listens on this machine alone", async () => {
    const { server } = await started();
    expect(server.listensOn).toBe("127.0.0.1");
  });

  it("takes its own folder with it when it stops, and its kernels", async () => {
    const bench = await Bench.start();
    const body = { path: "notebooks/one.ipynb", type: "notebook" };
    await bench.json("/api/sessions", "POST", body);
    await expect.poll(() => bench.kernels.started.length, { timeout: 20_000 }).toBe(1);
    expect(readdirSync(join(bench.project, "build/live"))).toEqual([`${process.pid}-${bench.server.port}`]);
    await bench.server.stop();
    expect(bench.kernels.last.isDown).toBe(true);
    expect(readdirSync(join(bench.project, "build/live"))).toEqual([]);
    await expect(bench.ask("/api")).rejects.toThrow("ECONNREFUSED");
  });

  it("cuts off a page that does not answer any more, and no other", async () => {
    const bench = await started(100);
    const { kernel } = await bench.json<{ readonly kernel: { readonly id: string } }>("/api/sessions", "POST", {
      path: "notebooks/one.ipynb",
    });
    const url = `${bench.origin.replace("http", "ws")}/api/kernels/${kernel.id}/channels?session_id=`;
    const asleep = new WebSocket(`${url}asleep`, { headers: bench.ours, autoPong: false });
    const awake = new WebSocket(`${url}awake`, { headers: bench.ours });
    const code = await new Promise((resolve) => asleep.on("close", resolve));
    expect([code, awake.readyState]).toEqual([1006, WebSocket.OPEN]);
    awake.close();
  });
});

it("sees other servers of the same project, and takes away what one that was killed has left", () => {
  const { project } = aProject();
  const folder = (name: string): string => join(project, "build/live", name);
  // the parent of the tests runs; no process has the highest number there can be
  for (const name of [`${process.ppid}-8817`, "4194304-8818", "notes"]) mkdirSync(folder(name), { recursive: true });
  expect(neighbours(project)).toEqual([{ processId: process.ppid, port: 8817 }]);
  expect([folder("4194304-8818"), folder("notes")].map((path) => existsSync(path))).toEqual([false, true]);
});
