import type { AnyMeasured } from "../../kernel-lib/src/uncertainty/measured.js";

/**
 * What a result rests on, a line an input: "label: c·u, law, ν, type, source". The contribution keeps its sign and is given
 * `per` SI unit, 1e6 for µm and µm/m.
 */
export function budgetLines({ terms }: AnyMeasured, per = 1e6, digits = 6): string[] {
  return terms.map(({ input, sensitivity }) => {
    const effect = Number((sensitivity * input.uncertaintySi * per).toPrecision(digits));
    const { label, distribution, degreesOfFreedom, evaluation, source } = input;
    return `${label}: ${effect}, ${distribution}, ${degreesOfFreedom}, ${evaluation}, ${source}`;
  });
}
