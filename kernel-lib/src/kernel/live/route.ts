import type { IncomingHttpHeaders } from "node:http";
import { Refused } from "./refused.js";

export type Json = { readonly [key: string]: unknown };

/** What a page asked for, past the gate. */
export interface Asked {
  readonly method: string;
  /** parts of the path that the route left open, decoded: `:id` one part, `*path` all that is left */
  readonly open: { readonly [name: string]: string };
  readonly query: URLSearchParams;
  readonly headers: IncomingHttpHeaders;
  /** host and port as the page knows the server: "127.0.0.1:8817" */
  readonly host: string;
  /** the whole body; refused with a sentence where it is larger than the route takes */
  body(): Promise<Buffer>;
  /** the body as one JSON object, `{}` where there is none; refused with a sentence where it is not JSON */
  json(): Promise<Json>;
}

/** An answer: a JSON value, or text or bytes with their type; 200 where no status is said, 204 without a body. */
export interface Answer {
  readonly status?: number;
  readonly json?: unknown;
  readonly body?: string | Uint8Array;
  readonly type?: string;
  readonly headers?: { readonly [name: string]: string };
}

/** One address of the server. */
export interface Route {
  readonly method: "GET" | "PUT" | "POST" | "PATCH" | "DELETE";
  /** like `/api/kernels/:id/restart` or `/api/contents/*path` */
  readonly path: string;
  /** largest body in bytes; 1 MB when left out */
  readonly largest?: number;
  answer(asked: Asked): Answer | Promise<Answer>;
}

/** The route of a request and what it left open; refused where there is none. */
export function routeFor(
  routes: readonly Route[],
  method: string,
  address: string,
): { readonly route: Route; readonly open: { readonly [name: string]: string } } {
  const parts = partsOf(address);
  const found = routes.flatMap((route) => {
    const open = matched(route.path, parts);
    return open === undefined ? [] : [{ route, open }];
  });
  const asked = method === "HEAD" ? "GET" : method;
  const right = found.find(({ route }) => route.method === asked);
  if (right !== undefined) return right;
  if (found.length === 0) throw new Refused(404, "no-address", `${address}: there is nothing at this address`);
  throw new Refused(405, "no-method", `${address}: does not take ${method}`);
}

/** Parts of a path as it came over the wire: nothing is resolved in it, so that `..` is seen by who looks for it. */
function partsOf(address: string): readonly string[] {
  try {
    return address.split("/").slice(1).map(decodeURIComponent);
  } catch {
    throw new Refused(
      400,
      "address",
      `${JSON.stringify(address)}: is no address in UTF-8; open the page from its list`,
    );
  }
}

function matched(pattern: string, parts: readonly string[]): { readonly [name: string]: string } | undefined {
  const wanted = pattern.split("/").slice(1);
  const star = wanted.findIndex((want) => want.startsWith("*"));
  if (star < 0) return matchedParts(wanted, parts);
  const behind = wanted.length - star - 1;
  if (parts.length < wanted.length) return undefined;
  const before = matchedParts(wanted.slice(0, star), parts.slice(0, star));
  const after = matchedParts(wanted.slice(star + 1), parts.slice(parts.length - behind));
  const name = wanted[star]?.slice(1) ?? "";
  return before && after && { ...before, ...after, [name]: parts.slice(star, parts.length - behind).join("/") };
}

function matchedParts(
  wanted: readonly string[],
  parts: readonly string[],
): { readonly [name: string]: string } | undefined {
  const open: { [name: string]: string } = {};
  for (const [i, want] of wanted.entries()) {
    const part = parts[i];
    if (part === undefined) return undefined;
    if (want.startsWith(":") && part !== "") open[want.slice(1)] = part;
    else if (want !== part) return undefined;
  }
  return parts.length === wanted.length ? open : undefined;
}
