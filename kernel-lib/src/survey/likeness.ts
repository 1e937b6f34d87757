/** Names that look like the one given, nearest first, at most three. */
export function alike(given: string, names: readonly string[]): string[] {
  const plain = (name: string) => name.toLowerCase().replace(/\.[a-z]+$/, "");
  return names
    .map((name) => ({ name, steps: edits(plain(given), plain(name)) }))
    .filter(({ name, steps }) => steps <= Math.max(2, plain(name).length / 2))
    .sort((a, b) => a.steps - b.steps || a.name.localeCompare(b.name))
    .slice(0, 3)
    .map(({ name }) => name);
}

/** letters to add, drop or change to turn one text into the other (Levenshtein) */
function edits(a: string, b: string): number {
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) {
      const change = row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1);
      next.push(Math.min(change, row[j]! + 1, next[j - 1]! + 1));
    }
    row = next;
  }
  return row[b.length]!;
}
