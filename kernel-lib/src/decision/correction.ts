import { measuringCautions } from "../facing/index.js";
import type { Surface } from "../survey/surface.js";
import { flatnessUm, uniformsOf } from "./drawn.js";
import { notJudged, predictedHeights } from "./map-options.js";
import type { Option } from "./option.js";
import { partError, spreadText } from "./part-error.js";
import { predictionOf, verdictOf } from "./prediction.js";
import type { Setting } from "./setting.js";
import type { Simulation } from "./simulation.js";
import { byStraightedge, tableText } from "./straightedge.js";

const words = {
  name: "height correction in the control",
  canBeUndone: "yes, by switching the table off",
  risks:
    "corrected heights pass through the play of Z, so that moves below it do nothing, and through the width of the cutter",
  cautions: measuringCautions,
};

/**
 * Correct the height in the control. Only the travel's part may be corrected: what the map holds beyond the table's own
 * form, which a second survey by level or straightedge gives. Afterwards the map shows the table's own form, and what of
 * the travel stays uncorrected.
 */
export function correct(simulation: Simulation): Option {
  const { input, toleranceUm, guardUm, second } = simulation;
  const { playOfZ } = input;
  if (!second) {
    return notJudged(simulation, "correct", {
      ...words,
      assumes:
        "can't be judged without a second, independent survey (level or straightedge): only the travel's part of this map may be corrected, and one map can't part travel from table",
      byStraightedge: "that survey is what is missing",
    });
  }
  if (!playOfZ) {
    return notJudged(simulation, "correct", {
      ...words,
      assumes: "can't be judged without the play of Z: a correction smaller than it does nothing",
      byStraightedge: byStraightedge(simulation),
      ...partError(simulation),
    });
  }
  const playUm = playOfZ.in("um");
  const tableUm = second.likelyUm;
  const commanded = smoothedAcross(input, correctionOf(simulation.doubt.likelyUm, tableUm));
  // the control is told what the readings say, errors and all: these stay on what is cut, and are added, not taken off
  const left = simulation.draws.map(({ heightUm: map }, k) => {
    const moved = followed(input.surface, commanded, playUm, uniformsOf(input, k)());
    const travel = correctionOf(map, second.draws[k]!.heightUm).map((t, i) => t - moved[i]!);
    const after = map.map((z, i) => z + moved[i]!);
    return { travelUm: flatnessUm(input, travel), mapUm: flatnessUm(input, after) };
  });
  const drawnUm = left.map(({ mapUm }) => mapUm);
  const prediction = predictionOf(drawnUm, toleranceUm, guardUm);
  const travelLeft = left.map(({ travelUm }) => travelUm);
  const travel = predictionOf(travelLeft, toleranceUm, guardUm);
  const likely = simulation.doubt.likelyUm.map((z, i) => z + commanded[i]!);
  return {
    ...words,
    key: "correct",
    prediction,
    drawnUm,
    verdict: verdictOf(prediction),
    map: predictedHeights(simulation, likely),
    assumes: `the travel's part alone is corrected, ${flatnessUm(input, correctionOf(simulation.doubt.likelyUm, tableUm)).toFixed(1)} µm peak to valley by ${second.surface.name}; Z lags by up to ${playOfZ.text("um")} of play; the map keeps the table's own form; what is left of the travel is a bound from above, as unevenness that both surveys read is counted twice`,
    byStraightedge: `${tableText(simulation)}; a face cut with it ${spreadText(travel, 1)}, what is left of the travel`,
    ...partError(simulation),
    errorOfForm: travel,
    effort: input.efforts?.correct ?? {},
  };
}

/** what Z has to be moved by so that the map shows the table alone: table less map */
function correctionOf(mapUm: readonly number[], tableUm: readonly number[]): number[] {
  return mapUm.map((z, i) => tableUm[i]! - z);
}

/** a cutter spreads each move over its width: mean of the places within its radius */
function smoothedAcross({ surface: { places }, cutterRadius }: Setting, heights: readonly number[]): number[] {
  const radius = cutterRadius?.in("mm") ?? 0;
  return places.map(({ xMm, yMm }) => {
    const near = places.flatMap((p, j) => (Math.hypot(p.xMm - xMm, p.yMm - yMm) <= radius ? [heights[j]!] : []));
    return near.reduce((a, b) => a + b, 0) / near.length;
  });
}

/** what Z does of what it is told: it stays inside a gap of the play and is pushed along by its ends, place after place */
function followed({ places }: Surface, commanded: readonly number[], playUm: number, start: number): number[] {
  const order = places
    .map((_, i) => i)
    .sort((a, b) => places[a]!.yMm - places[b]!.yMm || places[a]!.xMm - places[b]!.xMm);
  let at = commanded[order[0]!]! + playUm * (start - 0.5);
  const moved = new Array<number>(places.length).fill(0);
  for (const i of order) {
    at = Math.min(commanded[i]! + playUm / 2, Math.max(commanded[i]! - playUm / 2, at));
    moved[i] = at;
  }
  return moved;
}
