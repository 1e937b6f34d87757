import type { IncomingMessage } from "node:http";
import { Refused } from "./refused.js";
import type { Json } from "./route.js";

const usual = 1_000_000;
/** so much more is read and thrown away, so that the page still hears why it was refused */
const patience = 4;

/** The body of a request, not larger than its route takes. */
export async function bodyOf(request: IncomingMessage, largest = usual): Promise<Buffer> {
  const chunks: Buffer[] = [];
  let size = 0;
  for await (const chunk of request as AsyncIterable<Buffer>) {
    size += chunk.length;
    if (size <= largest) chunks.push(chunk);
    else if (size > patience * largest) break;
  }
  if (size <= largest) return Buffer.concat(chunks);
  throw new Refused(
    413,
    "too-large",
    `the request is larger than ${inMegabytes(largest)}, which is the most taken here; nothing was changed: clear outputs that are not needed, or split the file`,
  );
}

/** A body as one JSON object. */
export function jsonOf(body: Buffer): Json {
  if (body.length === 0) return {};
  try {
    const value: unknown = JSON.parse(body.toString("utf8"));
    if (typeof value === "object" && value !== null && !Array.isArray(value)) return value as Json;
  } catch {
    // refused below, like JSON that is no object
  }
  throw new Refused(400, "not-json", "the request is not one JSON object; nothing was changed: load the page again");
}

export function inMegabytes(bytes: number): string {
  return `${Math.round(bytes / 1e6)} MB`;
}
