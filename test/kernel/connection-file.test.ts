import { chmodSync, statSync, writeFileSync } from "node:fs";
import { type AddressInfo, createServer } from "node:net";
import { join } from "node:path";
import { expect, it } from "vitest";
import { openToOthers, readConnection, writeConnection } from "../../kernel-lib/src/kernel/connection-file.js";
import { KernelSockets } from "../../kernel-lib/src/kernel/sockets.js";
import { scratch } from "./workplace.js";

const folder = scratch();
const good = {
  transport: "tcp",
  ip: "127.0.0.1",
  shell_port: 1,
  iopub_port: 2,
  stdin_port: 3,
  control_port: 4,
  hb_port: 5,
  key: "k",
  signature_scheme: "hmac-sha256",
};
function file(more: object): string {
  const path = join(folder, "connection.json");
  writeFileSync(path, JSON.stringify({ ...good, ...more }));
  return path;
}
const refusal = (more: object): string => {
  try {
    readConnection(file(more));
    return "";
  } catch (error) {
    return String((error as Error).message).replace(join(folder, "connection.json"), "FILE");
  }
};

it("takes what listens on this machine alone", () => {
  for (const ip of ["127.0.0.1", "127.0.1.1", "localhost", "::1"]) expect(readConnection(file({ ip })).ip).toBe(ip);
});

it("refuses to listen where other machines reach it", () => {
  for (const ip of ["0.0.0.0", "*", "192.168.1.20", "127.0.0.1.example.org", "::"]) {
    expect(refusal({ ip })).toBe(
      `FILE: ip is "${ip}", where other machines reach the kernel; it listens on this machine alone: set 127.0.0.1`,
    );
  }
});

it("refuses to run unsigned messages", () => {
  expect(refusal({ key: "" })).toBe(
    "FILE: the key is empty, so that messages of anyone would run; start the kernel from a front end that signs its messages",
  );
  expect(refusal({ signature_scheme: "hmac-md5" })).toBe("FILE: only messages signed by hmac-sha256 are understood");
  expect(refusal({ key: undefined })).toBe("FILE: key missing in the connection file");
});

it.skipIf(process.platform === "win32")(
  "writes files for the owner alone, and tells of one that others may read",
  async () => {
    const { path } = await writeConnection(folder);
    expect(statSync(path).mode & 0o777).toBe(0o600);
    expect(openToOthers(path)).toBeUndefined();
    chmodSync(path, 0o644);
    expect(openToOthers(path)).toBe(
      `${path} may be read by others (mode 644): whoever reads it can run cells as you; it should have mode 600`,
    );
  },
);

it("says in one sentence that a port is taken", async () => {
  const other = createServer();
  await new Promise<void>((resolve) => other.listen(0, "127.0.0.1", resolve));
  const { port } = other.address() as AddressInfo;
  const { connection } = await writeConnection(folder);
  const sockets = new KernelSockets({ ...connection, iopub_port: port });
  await expect(sockets.bind()).rejects.toThrow(
    `kernel: the address tcp://127.0.0.1:${port} is in use by another program; start the kernel once more, fresh ports are picked then`,
  );
  sockets.close();
  other.close();
});
