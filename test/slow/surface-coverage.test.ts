import { expect, it } from "vitest";
import { surface } from "../../kernel-lib/src/form/index.js";
import { normalQuantile, randomStream, tQuantile } from "../../kernel-lib/src/numerics/index.js";
import { planted } from "../form/planted.js";
import { slowForm, sortNames } from "./slow-forms.js";

const surveysOfASort = 250;
const spots = 10;
// Student's t for the 90 degrees of freedom of the noise
const factor = tQuantile(0.975, 90);

/** of the spots of one survey, the share that the band holds */
function shareHeld(sort: string, seed: number): number {
  const form = slowForm(sort, seed);
  const found = surface(planted({ form, noiseUm: 2, passes: 2, seed: 50_000 + seed }).surface, { reference: "zero" });
  const stream = randomStream(90_000 + seed);
  const x = Array.from({ length: spots }, () => 450 * stream.uniform());
  const y = Array.from({ length: spots }, () => 320 * stream.uniform());
  const { meanUm, uUm } = found.heights(x, y, false);
  return meanUm.filter((height, k) => Math.abs(height - form(x[k]!, y[k]!)) <= factor * uUm[k]!).length / spots;
}

/** The rate over surveys and its standard error. The spots of one survey go together: the survey is what counts as a trial. */
function rateOf(shares: readonly number[]): { readonly rate: number; readonly error: number } {
  const rate = shares.reduce((s, share) => s + share, 0) / shares.length;
  const squares = shares.reduce((s, share) => s + (share - rate) ** 2, 0);
  return { rate, error: Math.sqrt(squares / (shares.length - 1) / shares.length) };
}

it("holds slowly varying forms between the places in 93 to 97 of 100, 1000 surveys", { timeout: 900_000 }, () => {
  const found = sortNames.map((sort, k) => {
    const shares = Array.from({ length: surveysOfASort }, (_, i) => shareHeld(sort, 1 + k * surveysOfASort + i));
    return { sort, shares, ...rateOf(shares) };
  });
  const { rate, error } = rateOf(found.flatMap(({ shares }) => shares));
  const percent = (share: number) => `${(100 * share).toFixed(2)} %`;
  const count = found.length * surveysOfASort * spots;
  const lines = found.map((one) => `${one.sort} ${percent(one.rate)} ± ${percent(one.error)}`);
  console.log(
    `surface between the places: ${Math.round(rate * count)} of ${count} spots of ${count / spots} surveys held (${percent(rate)}, ` +
      `standard error over surveys ${percent(error)}), band 93 to 97 %; ${lines.join("; ")}`,
  );
  expect(rate).toBeGreaterThanOrEqual(0.93);
  expect(rate).toBeLessThanOrEqual(0.97);
  // no sort of form is farther out than 99.9 % of chance takes it
  const chance = normalQuantile(0.9995);
  for (const one of found) {
    expect(one.rate + chance * one.error).toBeGreaterThanOrEqual(0.93);
    expect(one.rate - chance * one.error).toBeLessThanOrEqual(0.97);
  }
});
