import { stepOf } from "../src/survey/gauge.js";
import { isDatum, micrometres } from "../src/survey/sheet.js";
import { groupOf, type SheetModel, type Spot } from "./sheet-model.js";
import { type Heights, trim, unitText } from "./sheet-typed.js";

/** what a reading is held against, and how close to a whole turn the difference must be */
interface Expected {
  readonly height: number;
  readonly words: string;
  readonly within: number;
}

/**
 * A sentence where a reading stands a whole turn of the pointer off what is expected there: the same place in another
 * pass, the same datum before, or else the nearest places of the same pass. Common practice of dial gauges, no source.
 */
export function suspectTurn(value: number, index: number, model: SheetModel, heights: Heights): string | undefined {
  const turnUm = model.gauge?.rangePerTurn?.in("um");
  if (turnUm === undefined) return undefined;
  const perUnit = micrometres[model.units.z];
  const turn = turnUm / perUnit;
  const step = stepOf(model.gauge!).in("um") / perUnit;
  const expected =
    sameSpot(index, model, heights, Math.max(0.05 * turn, 3 * step)) ?? nearest(index, model, heights, turn);
  if (expected === undefined) return undefined;
  const off = value - expected.height;
  const turns = Math.round(Math.abs(off) / turn);
  if (turns < 1 || Math.abs(Math.abs(off) - turns * turn) > expected.within) return undefined;
  const unit = unitText(model);
  return `${trim(value)} ${unit} stands ${trim(Math.abs(off))} ${unit} ${off > 0 ? "above" : "below"} ${expected.words}, close to ${turns === 1 ? "a whole turn" : `${turns} whole turns`} of the pointer (${trim(turn)} ${unit}); read the turn counter again`;
}

/** the latest other reading at the same place */
function sameSpot(index: number, { spots }: SheetModel, heights: Heights, within: number): Expected | undefined {
  const spot = spots[index]!;
  const other = latest(spots, heights, index, (s) => s.place === spot.place);
  if (other === undefined) return undefined;
  const words = isDatum(spot.place)
    ? `the reading before at ${spot.place}`
    : `its reading in ${groupOf(spots[other]!)}`;
  return { height: heights[other]!, words, within };
}

/** the median of the nearest places of the same pass, where they agree among themselves */
function nearest(index: number, { spots }: SheetModel, heights: Heights, turn: number): Expected | undefined {
  const here = spots[index]!;
  if (here.xMm === undefined || isDatum(here.place)) return undefined;
  const near: { far: number; height: number }[] = [];
  spots.forEach((spot, i) => {
    if (i === index || spot.pass !== here.pass || spot.xMm === undefined || Number.isNaN(heights[i])) return;
    if (isDatum(spot.place)) return;
    const far = Math.hypot(spot.xMm - here.xMm!, spot.yMm! - here.yMm!);
    if (near.length === 4 && far >= near[3]!.far) return;
    near.push({ far, height: heights[i]! });
    near.sort((a, b) => a.far - b.far);
    near.length = Math.min(near.length, 4);
  });
  if (near.length < 2) return undefined;
  const sorted = near.map(({ height }) => height).sort((a, b) => a - b);
  if (sorted.at(-1)! - sorted[0]! > turn / 3) return undefined;
  const middle = (sorted[Math.floor((sorted.length - 1) / 2)]! + sorted[Math.ceil((sorted.length - 1) / 2)]!) / 2;
  return { height: middle, words: "the places beside it", within: 0.15 * turn };
}

function latest(
  spots: readonly Spot[],
  heights: Heights,
  index: number,
  wanted: (spot: Spot) => boolean,
): number | undefined {
  for (let i = index - 1; i >= 0; i--) if (wanted(spots[i]!) && !Number.isNaN(heights[i])) return i;
  for (let i = index + 1; i < spots.length; i++) if (wanted(spots[i]!) && !Number.isNaN(heights[i])) return i;
  return undefined;
}
