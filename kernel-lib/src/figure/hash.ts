/** A short name made from content alone: FNV-1a over the UTF-16 units in two lanes, 16 hexadecimal digits. */
export function contentHash(text: string): string {
  let a = 0x811c9dc5;
  let b = 0x2f0b4c47;
  for (let i = 0; i < text.length; i++) {
    const unit = text.charCodeAt(i);
    a = Math.imul(a ^ unit, 0x01000193);
    b = Math.imul(b ^ (unit + i), 0x01000193);
  }
  return hex(a) + hex(b);
}

function hex(value: number): string {
  return (value >>> 0).toString(16).padStart(8, "0");
}
