import { unbroken } from "./unbroken.js";

/** Lines of at most so many characters, broken at spaces but not between a number and its unit; a longer word is cut. */
export function wrap(text: string, length: number): readonly string[] {
  const lines: string[] = [];
  for (const word of unbroken(text.replace(/\s+/g, " ").trim())
    .split(" ")
    .flatMap((part) => cut(part.replaceAll("\u00a0", " "), length))) {
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
