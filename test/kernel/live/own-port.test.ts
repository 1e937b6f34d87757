import { describe, expect, it } from "vitest";
import { atOwnPort, ownPort } from "../../../kernel-lib/src/kernel/live/own-port.js";
import { MeasurementError } from "../../../kernel-lib/src/measurement-error.js";

describe("the port of a project", () => {
  it("is the same each time, within the range of its own, and another one for another folder", () => {
    const ports = ["/shop/mill", "/shop/lathe", "/home/a/mill"].map(ownPort);
    expect(ports).toEqual(["/shop/mill", "/shop/lathe", "/home/a/mill"].map(ownPort));
    expect(new Set(ports).size).toBe(3);
    for (const port of ports) expect(port >= 20_000 && port < 30_000).toBe(true);
  });

  it("gives way to a free one where it is in use, and to nothing else", async () => {
    const asked: (number | undefined)[] = [];
    const taken = new MeasurementError("port-taken", "open: port is in use");
    const start = async (port: number | undefined) => {
      asked.push(port);
      if (port !== undefined) throw taken;
      return "started";
    };
    expect(await atOwnPort("/shop/mill", start)).toBe("started");
    expect(asked).toEqual([ownPort("/shop/mill"), undefined]);
    const broken = new Error("no loopback");
    await expect(atOwnPort("/shop/mill", () => Promise.reject(broken))).rejects.toBe(broken);
  });
});
