/** Lines of at most so many characters, broken at spaces; a longer word is cut. */
export function wrap(text: string, length: number): readonly string[] {
  const lines: string[] = [];
  for (const word of text.split(/\s+/).flatMap((part) => cut(part, length))) {
    const last = lines[lines.length - 1];
    if (last !== undefined && last.length + 1 + word.length <= length) lines[lines.length - 1] = `${last} ${word}`;
    else if (word !== "") lines.push(word);
  }
  return lines;
}

function cut(word: string, length: number): string[] {
  return Array.from({ length: Math.max(1, Math.ceil(word.length / length)) }, (_, i) =>
    word.slice(i * length, (i + 1) * length),
  );
}
