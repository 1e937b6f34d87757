import { chiSquaredCdf, tCdf } from "../numerics/distributions.js";
import type { Checked, Finding } from "./finding.js";
import type { HeightTable } from "./height-table.js";
import { type PassDisagreement, passShifts } from "./pass-test.js";
import { readingOutliers, spatialOutliers } from "./spatial-test.js";

/** chance of a false alarm that each check is set to, on paper; with those of drift they sum to 7 %. The checks see the
 * same readings and a place must also stand alone, so whole clean sheets alarm less often: 5 % at most, by simulation. */
export const passRate = 0.02;
const rates = { readings: 0.025, places: 0.006, shift: 0.002, tilt: 0.002 };

/** Places whose passes disagree, each with the pass likelier wrong. */
export function checkPasses({ sheet, table, raw, disagreements }: Checked): readonly Finding[] {
  const turn = sheet.preamble.gauge.rangePerTurn?.in("um");
  return disagreements.map((one) => {
    const label = table.labels[one.place]!;
    const missedTurn = turn !== undefined && isTurn(one.difference, turn, raw);
    const wrong =
      one.likelierWrong === undefined
        ? "one of these two is wrong"
        : `pass ${one.likelierWrong} likelier wrong (${one.why})`;
    return {
      check: "passes",
      severity: "check",
      what: `${label}: ${differ(one)}${missedTurn ? ", a whole turn of the pointer" : ""}, ${wrong}`,
      places: [label],
      howSure: chanceText(one.chance),
      whatToDo: missedTurn ? `read the turn counter again at ${label}` : `wipe and re-measure ${label}`,
    };
  });
}

/** Places, and single readings, that stand off the smooth run of the others. */
export function checkPlaces({ table, scatter, disagreements }: Checked): readonly Finding[] {
  const heights = meansOf(table);
  const known = new Set(disagreements.map((one) => one.place));
  const places = spatialOutliers(table, heights, scatter, rates.places).filter(({ index }) => !known.has(index));
  for (const { index } of places) known.add(index);
  const single = table.passes.length > 1 ? readingOutliers(table, levelled(table), rates.readings) : [];
  const oncePer = single.filter(({ index }, i) => {
    const place = table.place[index]!;
    return !known.has(place) && single.findIndex((other) => table.place[other.index] === place) === i;
  });
  return [
    ...places.map(({ index, size, chance }): Finding => {
      const label = table.labels[index]!;
      const several = table.place.filter((place) => place === index).length > 1;
      return {
        check: "neighbours",
        severity: "check",
        what: `${label}: stands ${size > 0 ? "high" : "low"} by ${round(size)} µm against the smooth run of the others${several ? ", and its passes agree" : ""}`,
        places: [label],
        howSure: `${chanceText(chance)}; ${several ? "likelier the table than a slip" : "one reading cannot tell the table from swarf"}`,
        whatToDo: several
          ? `slide over ${label} and its surroundings, feel for a burr or a ding`
          : `wipe and re-measure ${label}`,
      };
    }),
    ...oncePer.map(({ index, size, chance }): Finding => {
      const label = table.labels[table.place[index]!]!;
      return {
        check: "neighbours",
        severity: "check",
        what: `${label}: pass ${table.pass[index]} reads ${size > 0 ? "high" : "low"} by ${round(size)} µm against the smooth run of all readings`,
        places: [label],
        howSure: chanceText(chance),
        whatToDo: `wipe and re-measure ${label}`,
      };
    }),
  ];
}

/** Offset and tilt of a later pass against the first. */
export function checkShifts({ trusted: table, scatter }: Checked): readonly Finding[] {
  if (!scatter) return [];
  const spread = Math.max(scatter.standardDeviation, table.step / Math.sqrt(12));
  return passShifts(table, spread).flatMap((shift) => {
    const share = table.passes.length - 1;
    const t = Math.abs(shift.offset) / shift.standardUncertainty;
    const offsetChance = 2 * tCdf(-t, scatter.degreesOfFreedom);
    const tiltChance = shift.degreesOfFreedom > 0 ? 1 - chiSquaredCdf(shift.tiltChiSquared, shift.degreesOfFreedom) : 1;
    const found: Finding[] = [];
    if (offsetChance < rates.shift / share && Math.abs(shift.offset) > table.step / 2) {
      found.push({
        check: "shift",
        severity: "note",
        what: `pass ${shift.pass} reads ${round(Math.abs(shift.offset))} µm ${shift.offset > 0 ? "higher" : "lower"} than pass ${table.passes[0]} on the whole`,
        places: [],
        howSure: `standard uncertainty of the difference ${round(shift.standardUncertainty)} µm over ${shift.places} places`,
        whatToDo: "a set zero or a change of temperature does that; the form is not touched by it",
      });
    }
    if (tiltChance < rates.tilt / share && shift.tiltRange > table.step / 2) {
      found.push({
        check: "tilt",
        severity: "check",
        what: `pass ${shift.pass} is tilted against pass ${table.passes[0]} by ${round(shift.tiltRange)} µm from end to end`,
        places: [],
        howSure: chanceText(tiltChance),
        whatToDo: "the machine moved or warmed unevenly between the passes; let it settle and read a third pass",
      });
    }
    return found;
  });
}

function isTurn(difference: number, turn: number, { step }: HeightTable): boolean {
  const turns = Math.round(Math.abs(difference) / turn);
  return turns >= 1 && Math.abs(Math.abs(difference) - turns * turn) <= Math.max(0.05 * turn, 3 * step);
}

function differ({ pass, against, difference }: PassDisagreement): string {
  const size = round(Math.abs(difference));
  if (against.length === 1) return `pass ${against[0]} and ${pass} differ by ${size} µm`;
  return `pass ${pass} stands ${size} µm ${difference > 0 ? "above" : "below"} the mean of the others`;
}

function meansOf(table: HeightTable): number[] {
  const level = levelled(table);
  const sum = new Array<number>(table.labels.length).fill(0);
  const count = new Array<number>(table.labels.length).fill(0);
  table.place.forEach((place, i) => {
    sum[place] = sum[place]! + level[i]!;
    count[place] = count[place]! + 1;
  });
  return sum.map((s, i) => s / count[i]!);
}

/** readings with the mean difference between passes, over the places they share, taken out */
function levelled(table: HeightTable): Float64Array {
  const shift = new Map(passShifts(table, 1).map(({ pass, offset }) => [pass, offset]));
  return table.z.map((z, i) => z - (shift.get(table.pass[i]!) ?? 0));
}

function round(value: number): string {
  const size = Math.abs(value);
  return size >= 10 ? size.toFixed(0) : size.toFixed(1);
}

/** how often as much would show anywhere on a clean sheet */
export function chanceText(chance: number): string {
  if (!(chance > 0.001)) return "fewer than 1 clean sheet in 1000 shows as much";
  return `about 1 clean sheet in ${Math.round(1 / chance)} shows as much`;
}
