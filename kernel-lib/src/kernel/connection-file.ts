import { randomUUID } from "node:crypto";
import { readFileSync, statSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { join } from "node:path";
import { MeasurementError } from "../measurement-error.js";

/** Where a kernel listens and the key its messages are signed with; the file Jupyter calls a connection file. */
export interface Connection {
  readonly transport: string;
  readonly ip: string;
  readonly shell_port: number;
  readonly iopub_port: number;
  readonly stdin_port: number;
  readonly control_port: number;
  readonly hb_port: number;
  readonly key: string;
  readonly signature_scheme: string;
  readonly kernel_name?: string;
}

const ports = ["shell_port", "iopub_port", "stdin_port", "control_port", "hb_port"] as const;

/** Address of one of the kernel's sockets. */
export function address(connection: Connection, port: (typeof ports)[number]): string {
  const joint = connection.transport === "ipc" ? "-" : ":";
  return `${connection.transport}://${connection.ip}${joint}${connection[port]}`;
}

/** Reads the file a front end wrote for its kernel. */
export function readConnection(path: string): Connection {
  let given: Partial<Connection>;
  try {
    given = JSON.parse(readFileSync(path, "utf8")) as Partial<Connection>;
  } catch (error) {
    throw new MeasurementError("connection-file", `${path}: can't be read as a connection file (${String(error)})`);
  }
  const missing = ["transport", "ip", "key", ...ports].filter((name) => !Object.hasOwn(given, name));
  if (missing.length > 0) {
    throw new MeasurementError("connection-file", `${path}: ${missing.join(", ")} missing in the connection file`);
  }
  if ((given.signature_scheme ?? "hmac-sha256") !== "hmac-sha256") {
    throw new MeasurementError("connection-file", `${path}: only messages signed by hmac-sha256 are understood`);
  }
  return onlyHere(path, given as Connection);
}

/** A kernel runs whatever it is sent, so nobody but the owner on this machine may reach it. */
function onlyHere(path: string, connection: Connection): Connection {
  const { transport, ip, key } = connection;
  if (transport === "tcp" && !/^(?:127\.\d+\.\d+\.\d+|localhost|::1|\[::1\])$/.test(ip)) {
    throw new MeasurementError(
      "not-loopback",
      `${path}: ip is "${ip}", where other machines reach the kernel; it listens on this machine alone: set 127.0.0.1`,
    );
  }
  if (typeof key === "string" && key.length > 0) return connection;
  throw new MeasurementError(
    "no-key",
    `${path}: the key is empty, so that messages of anyone would run; start the kernel from a front end that signs its messages`,
  );
}

/** A sentence for the log where others may read the file, and with it the key; Windows has no such marks. */
export function openToOthers(path: string): string | undefined {
  const mode = statSync(path).mode & 0o777;
  if (process.platform === "win32" || (mode & 0o077) === 0) return undefined;
  return `${path} may be read by others (mode ${mode.toString(8)}): whoever reads it can run cells as you; it should have mode 600`;
}

/** Picks free ports of this machine alone and writes the file, readable by its owner only. */
export async function writeConnection(folder: string): Promise<{ path: string; connection: Connection }> {
  const [shell_port, iopub_port, stdin_port, control_port, hb_port] = await freePorts(ports.length);
  const connection = {
    transport: "tcp",
    ip: "127.0.0.1",
    shell_port,
    iopub_port,
    stdin_port,
    control_port,
    hb_port,
    key: randomUUID(),
    signature_scheme: "hmac-sha256",
    kernel_name: "dialbook",
  } as Connection;
  const path = join(folder, `kernel-${randomUUID()}.json`);
  writeFileSync(path, JSON.stringify(connection), { mode: 0o600, flag: "wx" });
  return { path, connection };
}

/** All held open until all are known, so that no port is picked twice. */
async function freePorts(count: number): Promise<number[]> {
  const servers = await Promise.all(
    Array.from({ length: count }, async () => {
      const server = createServer();
      await new Promise<void>((resolve, reject) => {
        server.once("error", reject);
        server.listen(0, "127.0.0.1", resolve);
      });
      return server;
    }),
  );
  const found = servers.map((server) => {
    const place = server.address();
    return typeof place === "object" && place !== null ? place.port : 0;
  });
  await Promise.all(servers.map((server) => new Promise((resolve) => server.close(resolve))));
  return found;
}
