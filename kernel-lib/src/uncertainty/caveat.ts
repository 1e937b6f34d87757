/**
 * What speaks against a figure and is no part of its U, such as an open finding of the health check of the survey it
 * rests on. Inputs carry it, so that every result made of them can say so.
 */
export interface Caveat {
  /** what is open and what to do about it, in one sentence; nothing where nothing is open */
  sentence(): string | undefined;
}

/** @internal anything that may carry a caveat: an input of a budget */
interface Carrier {
  readonly caveat?: Caveat | undefined;
}

/** @internal Sentences of the caveats, each once. */
export function caveatSentences(caveats: Iterable<Caveat | undefined>): readonly string[] {
  const found = new Set([...new Set(caveats)].map((caveat) => caveat?.sentence()));
  return [...found].filter((sentence) => sentence !== undefined);
}

/** @internal what the inputs of a result carry, each once */
export function caveatsOf(terms: readonly { readonly input: Carrier }[]): readonly string[] {
  return caveatSentences(terms.map(({ input }) => input.caveat));
}

/** @internal the caveats of several as one; nothing where none has any */
export function joinedCaveat(caveats: readonly (Caveat | undefined)[]): Caveat | undefined {
  if (caveats.every((caveat) => caveat === undefined)) return undefined;
  return { sentence: () => caveatSentences(caveats).join("; ") || undefined };
}

/** @internal a sentence with what speaks against its figure behind it */
export function withCaveats(sentence: string, caveats: readonly string[]): string {
  return [sentence, ...caveats].join("; ");
}
