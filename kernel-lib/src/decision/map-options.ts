import { loosenCautions, measuringCautions, stoningCautions } from "../facing/index.js";
import { areaText } from "../facing/reach.js";
import { um } from "../quantity/index.js";
import type { Option, OptionKey, PredictedHeight } from "./option.js";
import { leftAfterStoningUm, levelled, stoned } from "./outcomes.js";
import { predictionOf, verdictOf } from "./prediction.js";
import { type Drawn, drawnFlatness, flatnessUm, outOfParallelUm, type Simulation } from "./simulation.js";
import { largestArea, type StatedArea } from "./stated-area.js";
import { tableByStraightedge } from "./straightedge.js";

/** Level the machine on its feet and take the twist out. */
export function level(simulation: Simulation): Option {
  const outcome = levelled(simulation);
  const flatness = drawnFlatness(simulation, outcome);
  const likely = outcome(likelySurface(simulation), () => 0.5);
  return judged(simulation, "level", flatness, likely, {
    name: "level the machine, take twist out of its feet",
    assumes:
      "the feet take out anything from none to all of the twist, equally likely; the map shown has half of it out",
    byStraightedge: "a level on the table at both ends shows it while the feet are set",
    canBeUndone: "yes, by the feet",
    risks:
      "needs time to settle; a foot that is not bedded moves again; everything measured before is to be measured again",
    cautions: loosenCautions,
  });
}

/** Leave it, and work anywhere on it. */
export function leave(simulation: Simulation): Option {
  const { foundUm, doubt } = simulation;
  return judged(simulation, "leave", foundUm, doubt.likelyUm, {
    name: "leave it as it is",
    assumes: "the map as found",
    byStraightedge: tableByStraightedge(simulation),
    canBeUndone: "nothing is done",
    risks: "a rim or burr lifts and marks every part and vice that is put on it",
    cautions: measuringCautions,
  });
}

/** Leave it, and work inside the largest rectangle that is flat enough. */
export function statedArea(simulation: Simulation): Option {
  const { input, doubt, toleranceUm, guardUm } = simulation;
  const common = {
    name: "leave it and work in a stated area",
    canBeUndone: "nothing is done",
    risks: "the area was chosen from the same readings that judge it: probe it once more before it is relied on",
    cautions: measuringCautions,
  };
  const found = sureArea(simulation);
  if (!found) {
    return notJudged(simulation, "area", {
      ...common,
      byStraightedge: tableByStraightedge(simulation),
      assumes: `no rectangle of the map is within ${input.tolerance.upper.text()} with a chance of 95 %`,
    });
  }
  const flatness = drawnFlatness(simulation, ({ heightUm }) => heightUm, found.indices);
  const prediction = predictionOf(flatness, toleranceUm, guardUm);
  return {
    ...common,
    byStraightedge: tableByStraightedge(simulation, undefined, found.indices),
    key: "area",
    prediction,
    drawnUm: flatness,
    verdict: verdictOf(prediction),
    area: found.area,
    map: predictedHeights(simulation, doubt.likelyUm, found.indices),
    assumes: `the largest rectangle with a chance of 95 %: ${areaText(found.area)}`,
    ...partError(simulation, doubt.likelyUm),
    effort: input.efforts?.area ?? {},
  };
}

/** Stone the rim of a ding down to the surface around it. */
export function stone(simulation: Simulation): Option {
  const { input, highs } = simulation;
  const leftUpTo = leftAfterStoningUm(simulation);
  const common = {
    name: "stone the raised rim",
    byStraightedge: `${tableByStraightedge(simulation, stoned(simulation))}; a blued straightedge shows that the rim is gone`,
    canBeUndone: "no, but only metal that stands up is taken",
    risks:
      "a stone that rocks digs a hollow; one high place may be dust on the stylus: read it again before metal is taken",
    cautions: stoningCautions,
  };
  if (highs.length === 0) {
    return notJudged(simulation, "stone", {
      ...common,
      assumes: "no place stands out of the form around it: there is no rim to stone",
    });
  }
  const outcome = stoned(simulation);
  const flatness = drawnFlatness(simulation, outcome);
  const likely = outcome(likelySurface(simulation), () => 0.5);
  const names = highs.map((i) => input.surface.places[i]!.label);
  return judged(simulation, "stone", flatness, likely, {
    ...common,
    assumes: `only the rim at ${names.join(", ")} comes down, to no more than ${leftUpTo} µm above the form around it`,
  });
}

/** Shim and re-tram the head: the texture changes, the map does not. */
export function tram(simulation: Simulation): Option {
  const { foundUm, doubt } = simulation;
  return judged(simulation, "tram", foundUm, doubt.likelyUm, {
    name: "shim and re-tram the head",
    assumes: "the map is unchanged; steps and hollows in what is cut become smaller",
    byStraightedge: tableByStraightedge(simulation),
    canBeUndone: "yes",
    risks: "the head is heavy; tram at the height and quill position of the cut, then check again with the bolts tight",
    cautions: loosenCautions,
  });
}

type Words = Pick<Option, "name" | "assumes" | "byStraightedge" | "canBeUndone" | "risks" | "cautions">;

function judged(
  simulation: Simulation,
  key: OptionKey,
  flatness: readonly number[],
  likely: readonly number[],
  words: Words,
): Option {
  const prediction = predictionOf(flatness, simulation.toleranceUm, simulation.guardUm);
  return {
    ...words,
    key,
    prediction,
    drawnUm: flatness,
    verdict: verdictOf(prediction),
    map: predictedHeights(simulation, likely),
    ...partError(simulation, likely),
    effort: simulation.input.efforts?.[key] ?? {},
  };
}

/** An option whose result nothing in the map can foretell. */
export function notJudged({ input }: Simulation, key: OptionKey, words: Words & { errorOnPart?: string }): Option {
  return { errorOnPart: "not known", ...words, key, verdict: "can't be judged", effort: input.efforts?.[key] ?? {} };
}

function likelySurface({ doubt }: Simulation): Drawn {
  return { heightUm: doubt.likelyUm, smoothUm: doubt.smoothUm };
}

/** The guard is widened until the draws confirm the rectangle at 95 %. */
function sureArea({ input, draws, doubt, toleranceUm, guardUm }: Simulation): StatedArea | undefined {
  const few = { input, draws: draws.slice(0, 400) };
  for (let guard = guardUm / 2; guard < toleranceUm; guard += Math.max(guardUm / 8, toleranceUm / 50)) {
    const found = largestArea(
      input.surface.places,
      (indices) => flatnessUm(input, doubt.likelyUm, indices),
      toleranceUm - guard,
    );
    if (!found) return undefined;
    const drawn = drawnFlatness(few, ({ heightUm }) => heightUm, found.indices);
    const within = drawn.filter((f) => f <= toleranceUm).length;
    if (within >= 0.955 * drawn.length) return found;
  }
  return undefined;
}

export function predictedHeights(
  { input }: Simulation,
  zUm: readonly number[],
  only?: readonly number[],
): PredictedHeight[] {
  const indices = only ?? zUm.map((_, i) => i);
  return indices.map((i) => {
    const { label, xMm, yMm } = input.surface.places[i]!;
    return { label, xMm, yMm, zUm: zUm[i]! };
  });
}

function partError(
  { input }: Simulation,
  heightUm: readonly number[],
): Pick<Option, "errorOnPart" | "partOutOfParallel"> {
  if (!input.part) {
    const follows = "a stiff part comes out of parallel by the slope of the table against travel";
    return { errorOnPart: `${follows}; a thin one follows the map` };
  }
  const { x, y } = input.part;
  const error = um(outOfParallelUm(input, heightUm, x, y));
  return {
    partOutOfParallel: error,
    errorOnPart: `top out of parallel with underside by ${error.in("um").toFixed(0)} µm over ${x.text("mm")} × ${y.text("mm")} (slope of the table against travel); a thin part follows the map besides`,
  };
}
