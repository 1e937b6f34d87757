import { standardDeviationOf } from "../facing/draws.js";
import { trueSurfaces } from "../facing/true-surfaces.js";
import { flatnessUm } from "./drawn.js";
import type { Option } from "./option.js";
import type { Simulation } from "./simulation.js";

/** What would change the answer: other tolerances, one more pass, one reading. */
export function whatWouldChange(simulation: Simulation, options: readonly Option[]): readonly string[] {
  return [...tolerances(options), onePassMore(simulation), ...oneReading(simulation)];
}

function tolerances(options: readonly Option[]): readonly string[] {
  const judged = options.flatMap(({ key, name, prediction }) =>
    prediction && key !== "area" && key !== "tram" ? [{ name, reaches: prediction.reaches.in("um") }] : [],
  );
  const sorted = judged.toSorted((a, b) => b.reaches - a.reaches);
  const lines = sorted.map(({ name, reaches }) => `from a tolerance of ${reaches.toFixed(1)} µm upwards: ${name}`);
  const least = sorted.at(-1);
  return least
    ? [
        ...lines,
        `below ${least.reaches.toFixed(1)} µm nothing on the list reaches it with a chance of 95 % over the whole map`,
      ]
    : lines;
}

/** the doubt of the flatness with half as many passes again, and what is left when only the gauge is in doubt */
function onePassMore({ input, uncertaintyUm }: Simulation): string {
  const { surface, seed = 1 } = input;
  const count = Math.min(...surface.places.map((p) => p.count));
  const factor = Math.sqrt(count / (count + 1));
  const { noise } = surface;
  const better = { ...surface, noise: { ...noise, standardUncertaintyUm: noise.standardUncertaintyUm * factor } };
  const doubt = trueSurfaces("decision.options", better, seed);
  const u = standardDeviationOf(Array.from({ length: 400 }, (_, k) => flatnessUm(input, doubt.draw(k).heightUm)));
  const gain =
    u < 0.9 * uncertaintyUm
      ? "worth an evening"
      : "the gauge's own error is what is left, and more passes do not touch it";
  const [now, then] = [uncertaintyUm.toFixed(1), u.toFixed(1)];
  const change = now === then ? `stays at ${now} µm` : `from ${now} µm to ${then} µm`;
  return `one more pass over the table: u of the flatness ${change} (${gain})`;
}

/** each place that stands out, and what the flatness would be without it */
function oneReading({ input, doubt, highs }: Simulation): readonly string[] {
  const all = flatnessUm(input, doubt.likelyUm);
  return highs.map((high) => {
    const rest = doubt.likelyUm.flatMap((_, i) => (i === high ? [] : [i]));
    const without = flatnessUm(input, doubt.likelyUm, rest);
    return `the reading at ${input.surface.places[high]!.label}: with it ${all.toFixed(1)} µm, without it ${without.toFixed(1)} µm; read it again before anything is done`;
  });
}
