import { describe, expect, it } from "vitest";
import { decode, encode, header, type Message, WireError } from "../../kernel-lib/src/kernel/wire.js";

const message: Message = {
  identities: [Buffer.from("peer")],
  header: header("execute_request", "front end"),
  parent: {},
  metadata: {},
  content: { code: "µ + 1" },
};

/** why frames are refused */
function refused(key: string, frames: readonly Buffer[]): string {
  try {
    decode(key, frames);
  } catch (error) {
    if (error instanceof WireError) return error.message;
    throw error;
  }
  return "accepted";
}

describe("a message on the wire", () => {
  it("comes back as it was sent", () => {
    expect(decode("key", encode("key", message))).toEqual(message);
    expect(decode("", encode("", message))).toEqual(message);
  });

  // RFC 4231, test case 2: HMAC-SHA-256 of "what do ya want for nothing?" under the key "Jefe"
  it("is signed by HMAC-SHA-256 over its four parts in a row, as RFC 4231 has it", () => {
    const parts = ["what do ya ", "want ", "for ", "nothing?"].map((part) => Buffer.from(part));
    const published = "5bdcc146bf60754e6a042426089575c75a003f089d2739839dec58b964ec3843";
    const signed = (text: string) => [Buffer.from("<IDS|MSG>"), Buffer.from(text), ...parts];
    expect(refused("Jefe", signed(published))).toBe("a message that is not JSON was refused");
    expect(refused("Jefe", signed(published.replace("5", "6")))).toBe("a message with a wrong signature was refused");
  });

  it("is refused with another key, a changed part, a missing part, or no delimiter", () => {
    const frames = encode("key", message);
    expect(refused("other", frames)).toBe("a message with a wrong signature was refused");
    expect(refused("key", [...frames.slice(0, -1), Buffer.from("{}")])).toBe(
      "a message with a wrong signature was refused",
    );
    expect(refused("key", frames.slice(0, -1))).toBe("a message without its frames was refused");
    expect(refused("key", [Buffer.from("hello")])).toBe("a message without its frames was refused");
    expect(
      refused("", [Buffer.from("<IDS|MSG>"), Buffer.from(""), ...["{}", "{}", "{}", "{}"].map((t) => Buffer.from(t))]),
    ).toBe("a message without type or session was refused");
  });
});
