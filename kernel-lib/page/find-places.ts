/** What a cell holds that can be looked for: what is written in it, and what it shows below. */
export interface CellTexts {
  readonly source: string;
  readonly shown: string;
}

/** One place where the words stand. */
export interface Hit {
  readonly cell: number;
  readonly part: "source" | "shown";
  /** the how-manieth within that part */
  readonly nth: number;
}

/** Every place of the words in the order of the notebook, capitals or not; none for no words. */
export function hitsOf(words: string, cells: readonly CellTexts[]): Hit[] {
  if (words === "") return [];
  return cells.flatMap((texts, cell) =>
    (["source", "shown"] as const).flatMap((part) =>
      Array.from({ length: startsOf(words, texts[part]).length }, (_, nth): Hit => ({ cell, part, nth })),
    ),
  );
}

/** Where the words begin in a text, capitals or not; a place counts once. */
export function startsOf(words: string, text: string): number[] {
  const [needle, hay] = [folded(words), folded(text)];
  const starts: number[] = [];
  for (let at = hay.indexOf(needle); at >= 0; at = hay.indexOf(needle, at + needle.length)) starts.push(at);
  return starts;
}

/** letter by letter, so that a place in it is a place in the text: a few capitals are longer in small letters */
function folded(text: string): string {
  const small = text.toLowerCase();
  return small.length === text.length ? small : [...text].map((sign) => oneSign(sign)).join("");
}

function oneSign(sign: string): string {
  const small = sign.toLowerCase();
  return small.length === sign.length ? small : sign;
}

/** The first hit at or after a cell, or the first of all. */
export function firstFrom(hits: readonly Hit[], cell: number): number {
  return Math.max(
    hits.findIndex((hit) => hit.cell >= cell),
    0,
  );
}
