import { type Message, WireError } from "../wire.js";

/** the channels of a kernel that a websocket carries */
export type ChannelName = "shell" | "control" | "iopub" | "stdin";

/** A message and the channel it goes over. */
export interface Framed {
  readonly channel: ChannelName;
  readonly message: Message;
}

/**
 * The two framings of kernel messages on a websocket, as Jupyter publishes them.
 *
 * @see the Jupyter Server's documentation, "WebSocket protocols": the default protocol and v1.kernel.websocket.jupyter.org
 */
export interface Framing {
  encode(framed: Framed): string | Buffer;
  /** @throws WireError for what is no such message */
  decode(data: Buffer, isBinary: boolean): Framed;
}

export const binaryProtocol = "v1.kernel.websocket.jupyter.org";

/** Number of offsets, the offsets, then channel, header, parent, metadata, content and buffers, back to back. */
export const binaryFraming: Framing = {
  encode: ({ channel, message }) => {
    const parts = [
      Buffer.from(channel),
      ...[message.header, message.parent, message.metadata, message.content].map(bytes),
      ...(message.buffers ?? []),
    ];
    const head = Buffer.alloc(8 * (parts.length + 2));
    head.writeBigUInt64LE(BigInt(parts.length + 1), 0);
    let at = head.length;
    for (const [i, part] of parts.entries()) {
      head.writeBigUInt64LE(BigInt(at), 8 * (i + 1));
      at += part.length;
    }
    head.writeBigUInt64LE(BigInt(at), 8 * (parts.length + 1));
    return Buffer.concat([head, ...parts]);
  },
  decode: (data, isBinary) => {
    if (!isBinary || data.length < 8) throw broken();
    const offsets = offsetsOf(data);
    const parts = offsets.slice(0, -1).map((from, i) => data.subarray(from, offsets[i + 1]));
    const [channel, head, parent, metadata, content, ...buffers] = parts;
    if (channel === undefined || content === undefined) throw broken();
    return framed(channel.toString(), [head, parent, metadata, content].map(parsed), buffers);
  },
};

/** One JSON text, or a binary message whose first part is that text and whose others are the buffers. */
export const plainFraming: Framing = {
  encode: ({ channel, message: { header, parent, metadata, content, buffers = [] } }) => {
    const text = JSON.stringify({ channel, header, parent_header: parent, metadata, content, buffers: [] });
    if (buffers.length === 0) return text;
    const parts = [Buffer.from(text), ...buffers];
    const head = Buffer.alloc(4 * (parts.length + 1));
    head.writeUInt32BE(parts.length, 0);
    let at = head.length;
    for (const [i, part] of parts.entries()) {
      head.writeUInt32BE(at, 4 * (i + 1));
      at += part.length;
    }
    return Buffer.concat([head, ...parts]);
  },
  decode: (data, isBinary) => {
    const [text = data, ...buffers] = isBinary ? plainParts(data) : [data];
    const { channel, header, parent_header, metadata, content } = parsed(text);
    return framed(String(channel), [header, parent_header ?? {}, metadata ?? {}, content ?? {}], buffers);
  },
};

function offsetsOf(data: Buffer): number[] {
  const count = Number(data.readBigUInt64LE(0));
  if (!(count >= 6 && 8 * (count + 1) <= data.length)) throw broken();
  const offsets = Array.from({ length: count }, (_, i) => Number(data.readBigUInt64LE(8 * (i + 1))));
  return inOrder(offsets, data.length);
}

function plainParts(data: Buffer): Buffer[] {
  const count = data.length < 4 ? 0 : data.readUInt32BE(0);
  if (!(count >= 1 && 4 * (count + 1) <= data.length)) throw broken();
  const offsets = Array.from({ length: count }, (_, i) => data.readUInt32BE(4 * (i + 1)));
  const ends = inOrder([...offsets, data.length], data.length);
  return offsets.map((from, i) => data.subarray(from, ends[i + 1]));
}

function inOrder(offsets: number[], length: number): number[] {
  if (offsets.some((offset, i) => !(offset <= length && offset >= (offsets[i - 1] ?? 0)))) throw broken();
  return offsets;
}

function framed(channel: string, parts: readonly unknown[], buffers: readonly Buffer[]): Framed {
  const [head, parent, metadata, content] = parts;
  if (channel !== "shell" && channel !== "control" && channel !== "stdin") throw broken();
  if (![head, parent, metadata, content].every(isObject) || !isHeader(head)) throw broken();
  const message = { identities: [], header: head, parent, metadata, content } as unknown as Message;
  return { channel, message: buffers.length > 0 ? { ...message, buffers } : message };
}

function isObject(value: unknown): boolean {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function isHeader(value: unknown): boolean {
  const { msg_id, msg_type, session } = value as { readonly [key: string]: unknown };
  return [msg_id, msg_type, session].every((part) => typeof part === "string" && part.length <= 200);
}

function bytes(part: unknown): Buffer {
  return Buffer.from(JSON.stringify(part));
}

function parsed(part: Buffer | undefined): { readonly [key: string]: unknown } {
  try {
    const value: unknown = JSON.parse((part ?? Buffer.alloc(0)).toString("utf8"));
    if (isObject(value)) return value as { readonly [key: string]: unknown };
  } catch {
    // refused below
  }
  throw broken();
}

function broken(): WireError {
  return new WireError("a message that is not one of Jupyter's was refused; load the page again");
}
