import { MeasurementError } from "../measurement-error.js";
import { printNumber } from "../quantity/print.js";
import { Note } from "./note.js";

const number = /[+−]?\d+(?:\.\d+)?/g;

/**
 * Holds a figure in the text against the one the cells compute, in the digits as stated: the words must be the same, and
 * each stated number must be the computed one rounded to the decimals stated.
 *
 * A stated number with more decimals than the computed one prints is a difference too: the text would claim too much.
 *
 * @param value a result that prints itself, or its text
 * @param stated as the text has it: `"23 µm ± 4 µm (k = 2)"`
 * @throws MeasurementError `stated-differs`
 * @example
 * `${confirmStated(um(23.4), "23 µm")}` // => "stated and computed agree: 23 µm"
 */
export function confirmStated(value: { toString(): string } | string | number, stated: string): Note {
  const computed = typeof value === "number" ? printNumber(value) : String(value);
  if (computed.startsWith("[object ")) {
    throw new MeasurementError(
      "no-text",
      `confirmStated: the value given to compare with "${stated}" has no text of its own; give one of its figures`,
    );
  }
  if (agrees(plain(computed), plain(stated))) return new Note(`stated and computed agree: ${stated}`);
  throw new MeasurementError(
    "stated-differs",
    `confirmStated: the text says "${stated}", the cells compute "${computed}"; correct the text or find what changed`,
  );
}

/** One way of writing: real minus before a digit, one kind of space, one sign for micro. */
function plain(text: string): string {
  return text
    .normalize("NFC")
    .replace(/\s+/g, " ")
    .replace(/\u03bc/g, "µ")
    .replace(/\+\/?-/g, "±")
    .replace(/(?<![\p{L}\d])-(?=\d)/gu, "−")
    .trim();
}

function agrees(computed: string, stated: string): boolean {
  if (computed.replace(number, "#") !== stated.replace(number, "#")) return false;
  const found = computed.match(number) ?? [];
  return (stated.match(number) ?? []).every((text, i) => {
    const decimals = decimalsOf(text);
    const other = found[i] ?? "";
    return decimals <= decimalsOf(other) && rounded(other, decimals) === rounded(text, decimals);
  });
}

function decimalsOf(text: string): number {
  return text.split(".")[1]?.length ?? 0;
}

/** Decimal rounding of printed digits, half away from zero, as a whole count of the last stated place. */
function rounded(text: string, decimals: number): bigint {
  const [whole = "0", fraction = ""] = text.replace(/^[+−]/, "").split(".");
  const size = BigInt(whole + fraction.slice(0, decimals).padEnd(decimals, "0"));
  const up = (fraction[decimals] ?? "0") >= "5" ? 1n : 0n;
  return text.startsWith("−") ? -(size + up) : size + up;
}
