import { loosenCautions, measuringCautions, stoningCautions } from "../facing/index.js";
import { areaText } from "../facing/reach.js";
import { asFound, drawnFlatness, flatnessUm } from "./drawn.js";
import type { Option, OptionKey, PredictedHeight } from "./option.js";
import { leftAfterStoningUm, levelled, stoned } from "./outcomes.js";
import { partError } from "./part-error.js";
import { predictionOf, verdictOf } from "./prediction.js";
import { likelySurface, type Simulation } from "./simulation.js";
import { largestArea, type StatedArea } from "./stated-area.js";
import { byStraightedge, type SeenBySecond } from "./straightedge.js";
import { textureText } from "./texture.js";

/** Level the machine on its feet and take the twist out. */
export function level(simulation: Simulation): Option {
  const outcome = levelled(simulation);
  return judged(
    simulation,
    "level",
    { table: outcome, travel: outcome },
    {
      name: "level the machine, take twist out of its feet",
      assumes:
        "the feet take out anything from none to all of the twist, equally likely; the map shown has half of it out",
      byStraightedge: "a level on the table at both ends shows it while the feet are set",
      canBeUndone: "yes, by the feet",
      risks:
        "needs time to settle; a foot that is not bedded moves again; everything measured before is to be measured again",
      cautions: loosenCautions,
    },
  );
}

/** Leave it, and work anywhere on it. */
export function leave(simulation: Simulation): Option {
  return judged(
    simulation,
    "leave",
    {},
    {
      name: "leave it as it is",
      assumes: "the map as found",
      canBeUndone: "nothing is done",
      risks: "a rim or burr lifts and marks every part and vice that is put on it",
      cautions: measuringCautions,
    },
  );
}

/** Leave it, and work inside the largest rectangle that is flat enough. */
export function statedArea(simulation: Simulation): Option {
  const { input } = simulation;
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
      byStraightedge: byStraightedge(simulation),
      assumes: `no rectangle of the map is within ${input.tolerance.upper.text()} with a chance of 95 %`,
    });
  }
  const assumes = `the largest rectangle with a chance of 95 %: ${areaText(found.area)}`;
  const option = judged(simulation, "area", { only: found.indices }, { ...common, assumes });
  return { ...option, area: found.area };
}

/** Stone the rim of a ding down to the surface around it. */
export function stone(simulation: Simulation): Option {
  const { input, highs } = simulation;
  const common = {
    name: "stone the raised rim",
    byStraightedge: "a blued straightedge shows that the rim is gone",
    canBeUndone: "no, but only metal that stands up is taken",
    risks:
      "a stone that rocks digs a hollow; one high place may be dust on the stylus: read it again before metal is taken",
    cautions: stoningCautions,
  };
  if (highs.length === 0) {
    return notJudged(simulation, "stone", {
      ...common,
      byStraightedge: byStraightedge(simulation),
      assumes: "no place stands out of the form around it: there is no rim to stone",
    });
  }
  const names = highs.map((i) => input.surface.places[i]!.label);
  return judged(
    simulation,
    "stone",
    { table: stoned(simulation) },
    {
      ...common,
      assumes: `only the rim at ${names.join(", ")} comes down, to no more than ${leftAfterStoningUm(simulation)} µm above the form around it`,
    },
  );
}

/** Shim and re-tram the head: the texture changes, the map does not. */
export function tram(simulation: Simulation): Option {
  const option = judged(
    simulation,
    "tram",
    {},
    {
      name: "shim and re-tram the head",
      assumes: "the map is unchanged; steps and hollows in what is cut become smaller",
      canBeUndone: "yes",
      risks:
        "the head is heavy; tram at the height and quill position of the cut, then check again with the bolts tight",
      cautions: loosenCautions,
    },
  );
  return { ...option, errorOnPart: `${option.errorOnPart}; ${textureText(simulation.input.texture)}` };
}

/** what the option says for itself; `byStraightedge` is said after what the second survey tells */
type Words = Pick<Option, "name" | "assumes" | "canBeUndone" | "risks" | "cautions"> & {
  readonly byStraightedge?: string;
};

/** An option that does something to the table, the travel or neither, judged by the draws of the map. */
function judged(simulation: Simulation, key: OptionKey, does: SeenBySecond, words: Words): Option {
  const { table = asFound, only } = does;
  const isAsFound = table === asFound && only === undefined;
  const drawnUm = isAsFound ? simulation.foundUm : drawnFlatness(simulation, table, only);
  const prediction = predictionOf(drawnUm, simulation.toleranceUm, simulation.guardUm);
  const likely = table(likelySurface(simulation), () => 0.5);
  const told = [byStraightedge(simulation, does), ...(words.byStraightedge ? [words.byStraightedge] : [])];
  return {
    ...words,
    key,
    prediction,
    drawnUm,
    verdict: verdictOf(prediction),
    map: predictedHeights(simulation, likely, only),
    ...partError(simulation, does),
    byStraightedge: told.join("; "),
    effort: simulation.input.efforts?.[key] ?? {},
  };
}

/** An option whose result nothing in the map can foretell. */
export function notJudged(
  { input }: Simulation,
  key: OptionKey,
  words: Words &
    Pick<Option, "byStraightedge"> &
    Partial<Pick<Option, "errorOnPart" | "partOutOfParallel" | "errorOfForm">>,
): Option {
  return { errorOnPart: "not known", ...words, key, verdict: "can't be judged", effort: input.efforts?.[key] ?? {} };
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
    const drawn = drawnFlatness(few, asFound, found.indices);
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
