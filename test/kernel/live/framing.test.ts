import { createRequire } from "node:module";
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  binaryFraming,
  binaryProtocol,
  type Framed,
  plainFraming,
} from "../../../kernel-lib/src/kernel/live/framing.js";
import { header, WireError } from "../../../kernel-lib/src/kernel/wire.js";

// the front end's own reading and writing of both protocols: the reference that ours is held against
const { serialize, deserialize } = createRequire(import.meta.url)("@jupyterlab/services/lib/kernel/serialize.js") as {
  serialize(message: object, protocol?: string): string | ArrayBuffer;
  deserialize(data: string | ArrayBuffer, protocol?: string): { [key: string]: unknown };
};

const framed = (text: string, buffers: readonly Buffer[] = []): Framed => ({
  channel: "shell",
  message: {
    identities: [],
    header: header("execute_request", "größe"),
    parent: {},
    metadata: { cellId: "a" },
    content: { code: text },
    ...(buffers.length > 0 && { buffers }),
  },
});

const arrayBuffer = (data: Buffer): ArrayBuffer => new Uint8Array(data).buffer;
const bytesOf = (data: string | ArrayBuffer): Buffer => Buffer.from(data as string);
const viewed = (buffers: unknown): Buffer[] =>
  (buffers as readonly DataView[]).map((view) => Buffer.from(view.buffer, view.byteOffset, view.byteLength));

describe.each([
  ["binary", binaryFraming, binaryProtocol],
  ["plain", plainFraming, ""],
] as const)("the %s framing", (_, framing, protocol) => {
  it("is read by Jupyter's own client as it was written, and read back from it", () => {
    fc.assert(
      fc.property(
        fc.string({ unit: "grapheme" }),
        fc.array(fc.uint8Array({ minLength: 1, maxLength: 40 }), { maxLength: 3 }),
        (text, arrays) => {
          const sent = framed(
            text,
            arrays.map((array) => Buffer.from(array)),
          );
          const encoded = framing.encode(sent);
          const read = deserialize(typeof encoded === "string" ? encoded : arrayBuffer(encoded), protocol);
          const { channel, header: head, parent_header, metadata, content, buffers } = read;
          expect({ channel, message: { header: head, parent: parent_header, metadata, content } }).toEqual({
            channel: "shell",
            message: {
              header: sent.message.header,
              parent: {},
              metadata: sent.message.metadata,
              content: sent.message.content,
            },
          });
          expect(viewed(buffers ?? [])).toEqual(arrays.map((array) => Buffer.from(array)));

          const theirs = serialize(
            {
              channel,
              header: head,
              parent_header,
              metadata,
              content,
              buffers: arrays.map((a) => new Uint8Array(a).buffer),
            },
            protocol,
          );
          expect(framing.decode(bytesOf(theirs), typeof theirs !== "string")).toEqual(sent);
        },
      ),
      { seed: 12, numRuns: 100 },
    );
  });

  it("refuses what is no message, and never more than that", () => {
    fc.assert(
      fc.property(fc.uint8Array({ maxLength: 200 }), fc.boolean(), (array, isBinary) => {
        expect(() => framing.decode(Buffer.from(array), isBinary)).toThrow(WireError);
      }),
      { seed: 13, numRuns: 500 },
    );
    const whole = Buffer.from(framing.encode(framed("1")) as Buffer);
    for (let length = 0; length < whole.length; length++) {
      expect(() => framing.decode(whole.subarray(0, length), protocol !== "")).toThrow(
        "a message that is not one of Jupyter's was refused; load the page again",
      );
    }
  });
});
