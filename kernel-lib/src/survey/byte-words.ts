const utf8 = new TextDecoder("utf-8", { ignoreBOM: true });

/** The words of a column, each kept once, found again by their bytes. */
export class ByteWords {
  readonly words: string[] = [];
  private readonly starts: number[] = [];
  private readonly lengths: number[] = [];
  private readonly hashes: number[] = [];
  private slots = new Int32Array(256);
  private last = 0;
  private stride = 1;
  /** the word that `guess` found */
  guessed = 0;

  constructor(private readonly bytes: Uint8Array) {}

  /** Whether the cell holds the word that comes next if the column runs on as it did: places are probed in rows, there
   * and back. Returns the place behind it, −1 where it is another. */
  guess(from: number, separator: number): number {
    const { bytes } = this;
    const next = this.last + this.stride;
    if (!(next >= 0 && next < this.words.length)) return -1;
    const length = this.lengths[next]!;
    const other = this.starts[next]!;
    let i = 0;
    while (i < length && bytes[from + i] === bytes[other + i]) i++;
    if (i < length || bytes[from + length] !== separator) return -1;
    this.last = next;
    this.guessed = next;
    return from + length;
  }

  /** number of the word between two places of the text, given the hash of its bytes */
  numberOf(start: number, end: number, hash: number): number {
    const { bytes, slots, starts, lengths } = this;
    const mask = slots.length - 1;
    const length = end - start;
    for (let slot = hash & mask; ; slot = (slot + 1) & mask) {
      const found = slots[slot]! - 1;
      if (found < 0) return this.follow(this.add(start, length, hash, slot));
      if (lengths[found] !== length) continue;
      const other = starts[found]!;
      let i = 0;
      while (i < length && bytes[start + i] === bytes[other + i]) i++;
      if (i === length) return this.follow(found);
    }
  }

  private follow(number: number): number {
    this.stride = number < this.last ? -1 : number > this.last ? 1 : this.stride;
    this.last = number;
    return number;
  }

  private add(start: number, length: number, hash: number, slot: number): number {
    const number = this.words.length;
    this.words.push(textOf(this.bytes, start, start + length));
    this.starts.push(start);
    this.lengths.push(length);
    this.hashes.push(hash);
    this.slots[slot] = number + 1;
    if (2 * this.words.length > this.slots.length) this.spread();
    return number;
  }

  private spread(): void {
    const slots = new Int32Array(4 * this.slots.length);
    this.hashes.forEach((hash, number) => {
      let slot = hash & (slots.length - 1);
      while (slots[slot] !== 0) slot = (slot + 1) & (slots.length - 1);
      slots[slot] = number + 1;
    });
    this.slots = slots;
  }
}

/** The text between two places, short ones without the decoder. */
export function textOf(bytes: Uint8Array, start: number, end: number): string {
  if (end - start > 24) return utf8.decode(bytes.subarray(start, end));
  let text = "";
  for (let i = start; i < end; i++) {
    const byte = bytes[i]!;
    if (byte > 127) return utf8.decode(bytes.subarray(start, end));
    text += String.fromCharCode(byte);
  }
  return text;
}
