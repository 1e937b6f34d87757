import type { IncomingMessage, Server } from "node:http";
import { MeasurementError } from "../../measurement-error.js";

/** Makes a server listen on this machine alone. @throws MeasurementError `port-taken` */
export function listening(http: Server, port: number): Promise<void> {
  return new Promise((resolve, reject) => {
    http.once("error", (error) => {
      const isTaken = Reflect.get(error, "code") === "EADDRINUSE";
      const sentence = `open: port ${port} is in use by another program; give another, like --port ${port + 1}, or leave --port out for a free one`;
      reject(isTaken ? new MeasurementError("port-taken", sentence) : error);
    });
    http.listen(port, "127.0.0.1", resolve);
  });
}

/** Path and query as they came: nothing is resolved in the path. */
export function addressOf({ url = "/" }: IncomingMessage): { readonly path: string; readonly query: URLSearchParams } {
  const at = url.indexOf("?");
  return at < 0
    ? { path: url, query: new URLSearchParams() }
    : { path: url.slice(0, at), query: new URLSearchParams(url.slice(at + 1)) };
}
