import { cutCautions, measuringCautions, stoningCautions } from "../facing/index.js";
import { drawnFlatness, type Outcome, uniformsOf } from "./drawn.js";
import { notJudged, predictedHeights } from "./map-options.js";
import type { Option } from "./option.js";
import { formOfFace, partError, spreadText } from "./part-error.js";
import { predictionOf, verdictOf } from "./prediction.js";
import type { PlateOutlook } from "./setting.js";
import { likelySurface, type Simulation } from "./simulation.js";
import { byStraightedge, faceText, middleText, travelUm } from "./straightedge.js";

/** The reader's own option: heights afterwards by the reader's own model; the travel stays as found. */
export function ownOptions(simulation: Simulation): readonly Option[] {
  const { input, toleranceUm, guardUm } = simulation;
  return (input.own ?? []).map(({ name, assumes, canBeUndone, risks, cautions = [], effort = {}, after }) => {
    const { places } = input.surface;
    const table: Outcome = ({ heightUm }, uniform) =>
      places.map(({ label, xMm, yMm }, i) => after({ label, xMm, yMm, zUm: heightUm[i]! }, uniform).in("um"));
    const drawnUm = drawnFlatness(simulation, table);
    const prediction = predictionOf(drawnUm, toleranceUm, guardUm);
    return {
      key: `own: ${name}` as const,
      name,
      prediction,
      drawnUm,
      verdict: verdictOf(prediction),
      map: predictedHeights(
        simulation,
        table(likelySurface(simulation), () => 0.5),
      ),
      assumes: `by the reader's own model: ${assumes}`,
      byStraightedge: byStraightedge(simulation, { table }),
      ...partError(simulation, { table }),
      effort,
      canBeUndone,
      risks,
      cautions: [...cautions, ...measuringCautions],
    };
  });
}

/** Bolt a fixture plate on and face it in place. */
export function plate(simulation: Simulation): Option {
  const { input, draws, toleranceUm, guardUm } = simulation;
  const words = {
    name: "fixture plate, faced in place",
    canBeUndone: "yes, the plate comes off; T-slots and table stay as they are",
    risks:
      "flat on this table, at this torque, at this temperature only; screw heads under the cutter; daylight is lost; off and on again is a new survey",
    cautions: cutCautions,
  };
  const { plate: outlook } = input;
  if (!outlook) {
    const assumes = "no figures for texture, deflection, repeat of the travel and heat were given";
    return notJudged(simulation, "plate", {
      ...words,
      assumes,
      byStraightedge: faceText(simulation),
      ...formOfFace(simulation),
    });
  }
  const seen = draws.map((_, k) => plateUm(outlook, uniformsOf(input, k)));
  const prediction = predictionOf(seen, toleranceUm, guardUm);
  return {
    ...words,
    key: "plate",
    prediction,
    drawnUm: seen,
    verdict: verdictOf(prediction),
    ...(outlook.faced
      ? { map: outlook.faced.places.map(({ label, xMm, yMm, zUm }) => ({ label, xMm, yMm, zUm })) }
      : {}),
    assumes: `as this machine will see it: texture ${outlook.texture.in("um").toFixed(1)} µm, and anything from none up to ${outlook.deflectionUpTo.text("um")} of deflection, ${outlook.travelRepeatUpTo.text("um")} of travel that does not repeat, ${outlook.heatUpTo.text("um")} of heat, added up; the gauge that surveys it counts in the chance to prove it`,
    byStraightedge: straightedgeText(simulation, outlook),
    partOutOfParallel: { estimate: prediction.estimate, low: prediction.low, high: prediction.high },
    errorOnPart: `parallel with this machine's travel: out by no more than the plate's own flatness, ${spreadText(prediction, 0)}, as long as nothing is unscrewed`,
    ...formOfFace(simulation),
    effort: input.efforts?.plate ?? {},
  };
}

/** Scrape the table to a master. */
export function scrape(simulation: Simulation): Option {
  return notJudged(simulation, "scrape", {
    name: "scrape the table",
    assumes: "depends on the hand and on a master larger than the table; nothing in this map foretells it",
    byStraightedge: `the table itself as good as the master and the hand; ${faceText(simulation)}`,
    canBeUndone: "no",
    risks:
      "needs a competent hand and a master; done against a map relative to travel it copies the travel into the table",
    cautions: stoningCautions,
    ...formOfFace(simulation),
  });
}

/** Send the table out to be ground. */
export function regrind(simulation: Simulation): Option {
  const { input, draws, toleranceUm, guardUm } = simulation;
  const words = {
    name: "regrind, or send it out",
    canBeUndone: "no",
    risks:
      "ground parallel to its own ways or to the grinder's: ask which; metal and T-slot depth are lost; lifting and transport",
    cautions: ["Lift the table with gear and a second competent person; never reach under it.", ...measuringCautions],
  };
  const { regrindPromises: promised } = input;
  if (!promised) {
    return notJudged(simulation, "regrind", {
      ...words,
      assumes: "the shop's promised flatness was not given",
      byStraightedge: `the table itself as promised; ${faceText(simulation)}`,
      ...formOfFace(simulation),
    });
  }
  const flatness = draws.map((_, k) => promised.in("um") * uniformsOf(input, k)());
  const prediction = predictionOf(flatness, toleranceUm, guardUm);
  return {
    ...words,
    key: "regrind",
    prediction,
    drawnUm: flatness,
    verdict: verdictOf(prediction),
    assumes: `anything from flat to the ${promised.text("um")} the shop promises, measured its way and not against this travel`,
    byStraightedge: `the table itself no more than ${promised.text("um")}, as promised; ${faceText(simulation)}`,
    errorOnPart: "the slope of the table against travel stays to be measured",
    ...formOfFace(simulation),
    effort: input.efforts?.regrind ?? {},
  };
}

function plateUm(outlook: PlateOutlook, uniform: () => number): number {
  const parts = [outlook.deflectionUpTo, outlook.travelRepeatUpTo, outlook.heatUpTo];
  return parts.reduce((sum, part) => sum + part.in("um") * uniform(), outlook.texture.in("um"));
}

/** the travel by the reader's own figure, else by the second survey */
function straightedgeText(simulation: Simulation, outlook: PlateOutlook): string {
  const { input, draws, second } = simulation;
  const { travelFlatness } = outlook;
  const surveyed = travelFlatness ? undefined : travelUm(simulation);
  if (!travelFlatness && !surveyed) {
    return "unknown unless straightness and twist of the travel are surveyed with a level or a straightedge";
  }
  const both = draws
    .map((_, k) => plateUm(outlook, uniformsOf(input, k)) + (travelFlatness?.in("um") ?? surveyed![k]!))
    .toSorted((a, b) => a - b);
  const [low, high] = [both[Math.floor(0.025 * both.length)]!, both[Math.floor(0.975 * both.length)]!];
  const travel = travelFlatness
    ? `the ${travelFlatness.text("um")} of the travel`
    : `the travel's part of this map by ${second!.surface.name}, ${middleText(surveyed!)}`;
  return `at most ${low.toFixed(0)} µm to ${high.toFixed(0)} µm: what the machine sees and ${travel}, added up`;
}
