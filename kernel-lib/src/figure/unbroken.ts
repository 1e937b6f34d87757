import { units } from "../quantity/kinds.js";

/** keeps a line whole where a space would let it break */
const joint = "\u00a0";
const escaped = (text: string): string => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
const symbols = Object.values(units)
  .flatMap((row) => Object.values(row).map(({ symbol }) => symbol))
  .filter((symbol) => /^[^°′″]/.test(symbol) || symbol.startsWith("°"))
  .sort((a, b) => b.length - a.length)
  .map(escaped)
  .join("|");
const beforeUnit = new RegExp(`(?<=\\d) (?=(?:${symbols})(?![\\w/]))`, "g");

/** A text that no line end takes apart where it must be read together: a number and its unit, ± and U, "k = 2.0", "x 300", thousands. */
export function unbroken(text: string): string {
  return text
    .replace(/(?<=\d)\u2009(?=\d)/g, "\u202f")
    .replace(beforeUnit, joint)
    .replace(/(?<=±) (?=\d)/g, joint)
    .replace(/\b([A-Za-z]) = (?=[−-]?\d)/g, `$1${joint}=${joint}`)
    .replace(/\b([xyzXYZ]) (?=[−-]?\d)/g, `$1${joint}`)
    .replace(/(?<=\d) × (?=\d)/g, `${joint}×${joint}`);
}
