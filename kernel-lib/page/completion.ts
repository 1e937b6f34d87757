/** A name as our kernel offers it. */
export interface TypedName {
  readonly text: string;
  readonly type?: string;
  readonly signature?: string;
  readonly documentation?: string;
}

/** The name as the list at the cursor shows it: the name, what kind of thing it is, its signature on one line. */
export function completionOf({ text, type, signature }: TypedName): { label: string; type: string; detail: string } {
  const line = (signature ?? "").replace(/\s+/g, " ");
  const short = line.length > longest ? `${line.slice(0, longest - 1)}…` : line;
  return { label: text, type: type ?? "variable", detail: short === "" ? (type ?? "") : short };
}

const longest = 70;

/** where the word begins in which, or at the end of which, a place lies */
export function wordBefore(text: string, at: number): number {
  const found = /[\p{L}\p{N}_$]*$/u.exec(text.slice(0, at));
  return at - (found?.[0].length ?? 0);
}
