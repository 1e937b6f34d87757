import { gzipSync } from "node:zlib";

/** An entry of a tar as somebody with bad intent might write it: "0" a file, "1" and "2" links, "3" a device, "5" a folder. */
export interface HandEntry {
  readonly path: string;
  readonly text?: string;
  readonly type?: string;
  readonly link?: string;
}

/** A gzipped tar in the ustar form of POSIX.1, written here byte by byte so that nothing in it is tidied up. */
export function tarByHand(entries: readonly HandEntry[]): Uint8Array {
  return gzipSync(Buffer.concat([...entries.map(block), Buffer.alloc(1024)]));
}

function block({ path, text = "", type = "0", link = "" }: HandEntry): Buffer {
  const body = Buffer.from(text, "utf8");
  const head = Buffer.alloc(512);
  head.write(path, 0, 100, "utf8");
  head.write("0000644\0", 100);
  head.write("0000000\0", 108);
  head.write("0000000\0", 116);
  head.write(`${body.length.toString(8).padStart(11, "0")}\0`, 124);
  head.write("00000000000\0", 136);
  head.write("        ", 148);
  head.write(type, 156);
  head.write(link, 157, 100, "utf8");
  head.write("ustar\u000000", 257);
  const sum = head.reduce((total, byte) => total + byte, 0);
  head.write(`${sum.toString(8).padStart(6, "0")}\0 `, 148);
  return Buffer.concat([head, body, Buffer.alloc((512 - (body.length % 512)) % 512)]);
}
