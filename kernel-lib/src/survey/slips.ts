import { fCdf } from "../numerics/distributions.js";
import type { Checked, Finding } from "./finding.js";
import { chanceText } from "./health-readings.js";
import { type Arrangement, arrangements, mapsOfPasses, type Pair, pairOf, type SlipMap } from "./slip-maps.js";
import { shiftedRows, times } from "./slip-rows.js";

/** chance, on paper, that any of these questions is asked of two clean maps */
const slipRate = 1e-3;

/** a slip that would make two maps agree */
interface Guess {
  readonly check: string;
  readonly what: (first: string, second: string) => string;
  readonly whatToDo: string;
  readonly degreesOfFreedom: number;
  /** mean square of what would be left, and of what is left as the maps stand, µm² */
  readonly left: number;
  readonly now: number;
  /** mean square of the first map itself, µm² */
  readonly form: number;
}

/** Slips between the passes of one sheet. */
export function checkSlips({ table }: Checked): readonly Finding[] {
  const [first, ...later] = mapsOfPasses(table);
  if (!first) return [];
  // a table is set up anew a few times, not at each of many passes
  const turned = later.length < 12 ? arrangements.slice(1) : [];
  return later.flatMap((second) => slipsBetween(first, second, table.step, turned));
}

/**
 * Slips that would make the second map agree with the first: a sense turned round, another unit, mirrored or turned,
 * rows shifted by one, a lever angle not allowed for. At most one is asked about, the one that explains most.
 */
export function slipsBetween(
  first: SlipMap,
  second: SlipMap,
  step: number,
  turned: readonly Arrangement[] = arrangements.slice(1),
): readonly Finding[] {
  const asItIs = pairOf(first, second, arrangements[0]!);
  const guesses = [
    ...(asItIs ? [...senseGuess(asItIs), ...unitGuesses(asItIs)] : []),
    ...turned.flatMap((one) => arrangementGuess(first, second, one, asItIs)),
  ];
  const family = guesses.length;
  const likely = guesses
    .map((guess) => ({ guess, chance: chanceOf(guess, family) }))
    .filter(({ guess, chance }) => chance < slipRate && explains(guess))
    .sort((a, b) => a.guess.left - b.guess.left);
  const [asked, next] = likely;
  const rows = shiftedRows(first, second);
  if (rows && (!asked || rows.left < asked.guess.left)) return [rows.finding];
  if (!asked) return asItIs ? leverQuestion(first, second, asItIs, step) : [];
  const { guess, chance } = asked;
  const rival = next && next.guess.left < 2 * guess.left ? next.guess : undefined;
  return [
    {
      check: guess.check,
      severity: "stop",
      what: `${guess.what(first.name, second.name)}${rival ? ` Nearly as likely: ${rival.what(first.name, second.name)}` : ""}`,
      places: [],
      howSure: `${chanceText(chance)}; ${times(guess.now / guess.left)} less is left between the two if so`,
      whatToDo: guess.whatToDo,
    },
  ];
}

function senseGuess(pair: Pair): Guess[] {
  return [
    {
      check: "sense",
      ...mismatch(pair, (value) => -value),
      what: (first, second) => `${second} looks like ${first} upside down: was its sign the other way round?`,
      whatToDo:
        'push the stylus in and see which way the gauge counts; then say it above the heading, "# positive: surface stands low", on a copy of the sheet',
    },
  ];
}

function unitGuesses(pair: Pair): Guess[] {
  const factors = [25.4, 2.54, 10, 1000];
  return factors
    .flatMap((factor) => [factor, 1 / factor])
    .map((factor) => ({
      check: "units",
      ...mismatch(pair, (value) => factor * value),
      what: (first: string, second: string) =>
        `${second} looks like ${first} ${factor > 1 ? `made ${factor} times smaller` : `made ${Number((1 / factor).toPrecision(3))} times larger`}: was it read or typed in another unit (${unitWords(factor)})?`,
      whatToDo: "ask which gauge was read in which unit; correct the heading, or the cells, on a copy of the sheet",
    }));
}

function unitWords(factor: number): string {
  const size = factor > 1 ? factor : 1 / factor;
  if (size === 25.4) return "thou and µm, or inch and mm";
  if (size === 2.54) return "tenths of a thou and µm";
  return size === 10 ? "a digit slipped, or thou and tenths of a thou" : "mm and µm";
}

function arrangementGuess(first: SlipMap, second: SlipMap, one: Arrangement, asItIs: Pair | undefined): Guess[] {
  const pair = pairOf(first, second, one);
  if (!pair || !asItIs) return [];
  const { left, form, degreesOfFreedom } = mismatch(pair, (value) => value);
  return [
    {
      check: "arrangement",
      left,
      form,
      degreesOfFreedom,
      now: mismatch(asItIs, (value) => value).left,
      what: (a, b) => `${b} looks like ${a} ${one.name}: was FRONT at another edge, or counted along the other way?`,
      whatToDo: "stand at the machine, look where A1 is and which way +X and +Y point; correct a copy of the sheet",
    },
  ];
}

/** mean squares of the difference as the maps stand, and with the second one changed */
function mismatch({ first, second, degreesOfFreedom }: Pair, changed: (value: number) => number) {
  let [left, now, form] = [0, 0, 0];
  for (let i = 0; i < first.length; i++) {
    left += (changed(second[i]!) - first[i]!) ** 2;
    now += (second[i]! - first[i]!) ** 2;
    form += first[i]! ** 2;
  }
  return {
    left: left / degreesOfFreedom,
    now: now / degreesOfFreedom,
    form: form / degreesOfFreedom,
    degreesOfFreedom,
  };
}

function chanceOf({ now, left, degreesOfFreedom: nu }: Guess, family: number): number {
  return left > 0 ? Math.min(1, family * (1 - fCdf(now / left, nu, nu))) : 0;
}

/** a slip leaves little of the form unexplained; a map of noise agrees with nothing */
function explains({ now, left, form }: Guess): boolean {
  return left < now / 4 && left < form / 4;
}

/**
 * One map a steady part of the other, by a factor that angles of the stylus give. The slope of one noisy map on another
 * comes out too small by the share of noise in the first, which is taken out; the noise is what the factor leaves.
 */
function leverQuestion(first: SlipMap, second: SlipMap, pair: Pair, step: number): Finding[] {
  const { degreesOfFreedom: nu } = pair;
  const across = pair.first.reduce((sum, z, i) => sum + z * pair.second[i]!, 0) / nu;
  const square = pair.first.reduce((sum, z) => sum + z * z, 0) / nu;
  const factorFor = (noise: number) => across / (square - noise);
  const noiseFor = (factor: number) =>
    Math.max(step ** 2 / 12, mismatch(pair, (value) => value / factor).left / (1 + factor ** -2));
  const noise = noiseFor(factorFor(0));
  const slope = factorFor(noise);
  if (!(square > 25 * noise && slope > 0.4 && slope < 2.5)) return [];
  const uncertainty = Math.sqrt((noise * (1 + slope * slope)) / (nu * square));
  const off = Math.abs(slope - 1);
  if (!(off > 5 * uncertainty && off > 0.03)) return [];
  const [larger, smaller] = slope > 1 ? [second.name, first.name] : [first.name, second.name];
  const ratio = slope > 1 ? 1 / slope : slope;
  const angle = (Math.acos(ratio) * 180) / Math.PI;
  return [
    {
      check: "lever angle",
      severity: "stop",
      what: `all heights of ${larger} are ${(1 / ratio).toFixed(2)} times those of ${smaller}: was a lever stylus at about ${angle.toFixed(0)}° read without allowing for its angle?`,
      places: [],
      howSure: `the factor has a standard uncertainty of ${(uncertainty / slope / ratio).toFixed(3)}`,
      whatToDo:
        'measure the angle of the stylus to the surface and say it above the heading, like "# gauge lever angle: 20 deg"',
    },
  ];
}
