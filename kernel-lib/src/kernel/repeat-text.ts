import type { CellDifference, RunComparison } from "./same-numbers.js";

export interface ComparedChapter {
  readonly title: string;
  readonly comparison: RunComparison;
}

/** differences told of one chapter; the first ones carry the result */
const mostTold = 12;

/** What a repeated run is told as: chapter by chapter, other versions, and one line that sums it up. */
export function repeatText(
  chapters: readonly ComparedChapter[],
  versions: readonly string[],
): { readonly text: string; readonly same: boolean } {
  const found = chapters.flatMap(({ comparison }) => comparison.differences);
  const sum = (of: (comparison: RunComparison) => number): number =>
    chapters.reduce((total, { comparison }) => total + of(comparison), 0);
  const compared = `${count(
    sum(({ numbers }) => numbers),
    "number",
  )} in ${count(
    sum(({ cells }) => cells),
    "cell",
  )} and ${count(
    sum(({ figures }) => figures),
    "figure",
  )} compared`;
  const lines = [
    ...chapters.flatMap(chapterLines),
    ...(versions.length === 0
      ? ["versions: all the same"]
      : ["other versions:", ...versions.map((line) => `  ${line}`)]),
    `${verdictOf(found)}: ${compared}${found.length === 0 ? ", all as packed" : `, ${found.length} differ`}`,
  ];
  return { text: lines.join("\n"), same: found.length === 0 };
}

function count(n: number, what: string): string {
  return `${n} ${what}${n === 1 ? "" : "s"}`;
}

function verdictOf(found: readonly CellDifference[]): string {
  if (found.length === 0) return "same numbers";
  return found.every(({ kind }) => kind === "words") ? "same numbers, other words" : "other numbers";
}

function chapterLines({ title, comparison: { differences } }: ComparedChapter): readonly string[] {
  if (differences.length === 0) return [];
  const told = differences
    .slice(0, mostTold)
    .flatMap(({ cell, was, now }) => [`  cell ${cell}  was  ${short(was)}`, `          now  ${short(now)}`]);
  const more = differences.length - mostTold;
  return [title, ...told, ...(more > 0 ? [`          and ${more} more`] : [])];
}

function short(line: string): string {
  const text = line.trim().replace(/\s{2,}/g, "  ") || "nothing";
  return text.length > 150 ? `${text.slice(0, 149)}…` : text;
}
