import { visible } from "../figure/markup.js";

/**
 * A line, or several, for the person at the terminal. Names of files, texts of sheets and cells stand in them: signs that
 * a terminal would obey are written out.
 */
export function say(text: string): void {
  process.stdout.write(`${visible(text)}\n`);
}

/** The same for what is wrong, beside what is asked for. */
export function complain(text: string): void {
  process.stderr.write(`${visible(text)}\n`);
}
