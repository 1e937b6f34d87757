import { createHmac, randomUUID, timingSafeEqual } from "node:crypto";

/**
 * Jupyter messages as frames on the wire, for the kernel and for the headless runner alike.
 *
 * @see "Messaging in Jupyter", section "The wire protocol", version 5.3
 */
export interface Message {
  /** routing prefix: which peer of a router socket sent it, and so gets the answer */
  readonly identities: readonly Buffer[];
  readonly header: Header;
  /** header of the request this message belongs to; empty in a request */
  readonly parent: Partial<Header>;
  readonly metadata: { readonly [key: string]: unknown };
  readonly content: { readonly [key: string]: unknown };
  /** raw bytes that go with it; left out where there are none */
  readonly buffers?: readonly Buffer[];
}

export interface Header {
  readonly msg_id: string;
  readonly msg_type: string;
  /** identity of the front end */
  readonly session: string;
  readonly username: string;
  readonly date: string;
  readonly version: string;
}

/** A message that can't be trusted or read; it is named in the log and dropped. */
export class WireError extends Error {
  override readonly name = "WireError";
}

const delimiter = Buffer.from("<IDS|MSG>");

/** our own question on the control channel: answered once nothing that cells have left running can speak any more */
export const settleRequest = "dialbook_settle_request";

/** the name under which the runner, which has no page, speaks to a kernel */
export const headlessUser = "dialbook run";

/** A fresh header; its time of sending never reaches a saved notebook. */
export function header(type: string, session: string, username = "dialbook"): Header {
  return {
    msg_id: randomUUID(),
    msg_type: type,
    session,
    username,
    date: new Date().toISOString(),
    version: "5.3",
  };
}

/** Frames of a message, signed with the key of the connection file; an empty key means unsigned. */
export function encode(key: string, message: Message): Buffer[] {
  const parts = [message.header, message.parent, message.metadata, message.content].map((part) =>
    Buffer.from(JSON.stringify(part)),
  );
  return [...message.identities, delimiter, Buffer.from(signature(key, parts)), ...parts, ...(message.buffers ?? [])];
}

/** Reads frames, the signature first: nothing of a message with a wrong one is parsed. */
export function decode(key: string, frames: readonly Buffer[]): Message {
  const at = frames.findIndex((frame) => frame.equals(delimiter));
  const [signed, ...parts] = frames.slice(at + 1);
  if (at < 0 || signed === undefined || parts.length < 4)
    throw new WireError("a message without its frames was refused");
  // buffers stand behind the four parts and are not signed
  const wanted = Buffer.from(signature(key, parts.slice(0, 4)));
  if (signed.length !== wanted.length || !timingSafeEqual(signed, wanted)) {
    throw new WireError("a message with a wrong signature was refused");
  }
  const [head = {}, parent = {}, metadata = {}, content = {}] = parts.slice(0, 4).map(parsePart);
  if (!isHeader(head)) throw new WireError("a message without type or session was refused");
  const message = { identities: frames.slice(0, at), header: head, parent, metadata, content };
  return parts.length > 4 ? { ...message, buffers: parts.slice(4) } : message;
}

function isHeader(part: { [key: string]: unknown }): part is { [key: string]: unknown } & Header {
  return typeof part.msg_type === "string" && typeof part.session === "string" && typeof part.msg_id === "string";
}

function parsePart(part: Buffer): { [key: string]: unknown } {
  try {
    const value: unknown = JSON.parse(part.toString("utf8"));
    if (typeof value === "object" && value !== null && !Array.isArray(value)) return { ...value };
  } catch {
    // falls through to the refusal below, which says the same for every malformed part
  }
  throw new WireError("a message that is not JSON was refused");
}

function signature(key: string, parts: readonly Buffer[]): string {
  if (key === "") return "";
  const mac = createHmac("sha256", key);
  for (const part of parts) mac.update(part);
  return mac.digest("hex");
}
