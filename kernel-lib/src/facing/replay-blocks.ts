/** One thing that a replay refuses, with the line of the text where it stands (the first line is 1). */
export interface ReplayRefusal {
  readonly line: number;
  readonly code: string;
  readonly sentence: string;
}

/** Address and number as they stand in the text. */
export interface BlockWord {
  readonly address: string;
  readonly value: number;
  readonly text: string;
}

/** A line of the program that says something to the control. */
export interface ProgramBlock {
  readonly line: number;
  readonly words: readonly BlockWord[];
}

const longestLine = 250;
const wordPattern = /([A-Z])([+-]?(?:\d+\.?\d*|\.\d+))/y;
const measuring = "XYZFSP";

/** Reads a text as a control does that takes nothing for granted; what it can't read is refused, nothing is skipped. */
export function blocksOf(text: string): {
  /** the comments before the first block */
  readonly head: string;
  readonly blocks: readonly ProgramBlock[];
  readonly refusals: readonly ReplayRefusal[];
} {
  const blocks: ProgramBlock[] = [];
  const refusals: ReplayRefusal[] = [];
  let head = "";
  for (const [i, line] of text.split(/\r?\n/).entries()) {
    try {
      const words = wordsOf(bare(line));
      if (words.length > 0) blocks.push({ line: i + 1, words });
      else if (blocks.length === 0) head += line;
    } catch (error) {
      if (!(error instanceof Unreadable)) throw error;
      refusals.push({ line: i + 1, code: error.code, sentence: error.message });
    }
  }
  return { head, blocks, refusals };
}

/** what a line is refused for; never leaves this file */
class Unreadable extends Error {
  constructor(
    readonly code: string,
    message: string,
  ) {
    super(message);
  }
}

/** a line without its comments */
function bare(line: string): string {
  if (line.length > longestLine) {
    throw new Unreadable("words", `${line.length} characters; a control may cut a line off after ${longestLine}`);
  }
  const code = line.replaceAll(/\([^()]*\)/g, " ");
  if (/[()]/.test(code))
    throw new Unreadable("comment", "a bracket of a comment has no partner, or stands inside another comment");
  return code;
}

function wordsOf(code: string): BlockWord[] {
  const words: BlockWord[] = [];
  let at = 0;
  for (;;) {
    while (code[at] === " " || code[at] === "\t") at++;
    if (at >= code.length) return words;
    wordPattern.lastIndex = at;
    const found = wordPattern.exec(code);
    if (!found) throw new Unreadable("words", `${shown(code.slice(at))} is not an address in capitals with a number`);
    words.push(wordOf(found[1]!, found[2]!, found[0], words));
    at += found[0].length;
  }
}

function wordOf(address: string, number: string, text: string, before: readonly BlockWord[]): BlockWord {
  if (!`GM${measuring}`.includes(address)) {
    throw new Unreadable(
      "words",
      `${text}: the address ${address} is none of those that this program needs (G M X Y Z F S P)`,
    );
  }
  if (measuring.includes(address) && !number.includes(".")) {
    throw new Unreadable("number", `${text} has no decimal point; some controls take it for thousandths`);
  }
  if (!measuring.includes(address) && !/^\d{1,2}$/.test(number)) {
    throw new Unreadable("words", `${text} is not a code of one or two digits`);
  }
  if (address !== "G" && before.some((word) => word.address === address)) {
    throw new Unreadable("words", `the address ${address} stands twice in one line`);
  }
  return { address, value: Number(number), text };
}

function shown(text: string): string {
  const short = text.length > 20 ? `${text.slice(0, 20)}…` : text;
  return JSON.stringify(short);
}
