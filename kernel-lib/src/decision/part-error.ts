import { quantileOf } from "../facing/draws.js";
import { type Length, um } from "../quantity/index.js";
import { asFound, outOfParallelUm, uniformsOf } from "./drawn.js";
import type { Option, PredictedLength } from "./option.js";
import { predictionOf } from "./prediction.js";
import { likelySurface, type Simulation } from "./simulation.js";
import { type SeenBySecond, travelUm } from "./straightedge.js";

/** What is left on a part that is clamped on the table and faced. */
export type PartError = Pick<Option, "errorOnPart" | "partOutOfParallel" | "errorOfForm">;

/**
 * A stiff part comes out of parallel by the slope of the table against travel, its face takes the form of the travel, and
 * a thin one follows the map besides. The slope is that of the map, or of the stated area, after the
 * option, with its doubt.
 */
export function partError(simulation: Simulation, does: SeenBySecond = {}): PartError {
  const { part } = simulation.input;
  const face = formOfFace(simulation, does);
  if (!part) {
    const follows = "a stiff part comes out of parallel by the slope of the table against travel";
    return { ...face, errorOnPart: `${follows}; a thin one follows the map` };
  }
  const { x, y } = part;
  const error = predictedSlope(simulation, does, part);
  const over = `over ${x.text("mm")} × ${y.text("mm")} (slope of the ${does.only ? "stated area" : "table"} against travel)`;
  return {
    ...face,
    partOutOfParallel: error,
    errorOnPart: `top out of parallel with underside by ${spreadText(error, 0)} ${over}; a thin part follows the map besides`,
  };
}

/** Form of a face that is cut after the option: that of the travel, where a second survey tells it from the table. */
export function formOfFace(simulation: Simulation, does: SeenBySecond = {}): Pick<Option, "errorOfForm"> {
  const drawnUm = travelUm(simulation, does);
  if (!drawnUm) return {};
  return { errorOfForm: predictionOf(drawnUm, simulation.toleranceUm, simulation.guardUm) };
}

/** "24 µm (21 µm to 27 µm)" */
export function spreadText({ estimate, low, high }: PredictedLength, decimals: number): string {
  const print = (value: Length) => `${value.in("um").toFixed(decimals)} µm`;
  return `${print(estimate)} (${print(low)} to ${print(high)})`;
}

type PartSize = { readonly x: Length; readonly y: Length };

function predictedSlope(simulation: Simulation, does: SeenBySecond, part: PartSize): PredictedLength {
  const { input, draws } = simulation;
  const { table = asFound, only } = does;
  const slope = (heightUm: readonly number[]) => outOfParallelUm(input, heightUm, part, only);
  const drawn = draws.map((surface, k) => slope(table(surface, uniformsOf(input, k))));
  const sorted = drawn.toSorted((a, b) => a - b);
  return {
    estimate: um(slope(table(likelySurface(simulation), () => 0.5))),
    low: um(quantileOf(sorted, 0.025)),
    high: um(quantileOf(sorted, 0.975)),
  };
}
