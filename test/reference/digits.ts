import { readFileSync } from "node:fs";

/** A fixture of published values: digits are kept as printed. */
export function fixture<T>(name: string): T {
  return JSON.parse(readFileSync(new URL(name, import.meta.url), "utf8")) as T;
}

/** −log10 of the relative error: how many digits agree, at most 15; absolute where the certified value is 0. */
export function agreeingDigits(computed: number, published: string): number {
  const certified = Number(published);
  const error = Math.abs(computed - certified) / (certified === 0 ? 1 : Math.abs(certified));
  if (Number.isNaN(error)) return Number.NaN;
  return error === 0 ? 15 : Math.min(15, -Math.log10(error));
}

/** How many decimals a printed number has. */
export function decimalsOf(printed: string): number {
  return printed.split(".")[1]?.length ?? 0;
}
