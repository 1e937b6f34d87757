import { expect, it } from "vitest";
import { type BeddingNet, beddingNet, heightsOf, stiffnessOf } from "../../kernel-lib/src/facing/bedding-net.js";
import { bedding } from "../../kernel-lib/src/facing/index.js";
import { leastSquaresPlane, type RandomStream, randomStream } from "../../kernel-lib/src/numerics/index.js";
import { um } from "../../kernel-lib/src/quantity/index.js";
import type { Surface } from "../../kernel-lib/src/survey/surface.js";
import { aMap } from "../facing/a-map.js";
import { aHoldDown } from "../facing/a-plate.js";

// Tables and undersides of laws that the tool does not assume, heights known at every node; the tool sees a noisy map of places 40 mm
// apart by a gauge with a curve of its own. The plate is bent by the same plate theory: what is tested is the doubt, not the theory.

type Height = (x: number, y: number) => number;

/** in µm over a table from −1 to 1 both ways */
function tableOf(random: RandomStream): readonly [string, Height] {
  const between = (low: number, high: number) => low + (high - low) * random.uniform();
  const [bow, cross, twist] = [between(-15, 15), between(-4, 4), between(-8, 8)];
  const plain: Height = (x, y) => bow * x * x + cross * y * y + twist * x * y;
  const kind = Math.floor(4 * random.uniform());
  if (kind === 0) return ["bow and twist", plain];
  if (kind === 1) {
    const [size, waves, phase] = [between(1, 4), between(2, 6), between(0, 6.3)];
    return ["washboard", (x, y) => plain(x, y) + size * Math.sin(waves * x + phase)];
  }
  if (kind === 2) {
    const [depth, atX, atY, wide] = [between(5, 20), between(-0.7, 0.7), between(-0.7, 0.7), between(0.3, 0.6)];
    return ["worn patch", (x, y) => plain(x, y) - depth * Math.exp(-((x - atX) ** 2 + (y - atY) ** 2) / wide ** 2)];
  }
  const [bend, at] = [between(-15, 15), between(-0.5, 0.5)];
  return ["kinked", (x, y) => bend * Math.abs(x - at) + twist * x * y];
}

const [noiseUm, gaugeUm, flatWithinUm] = [0.7, 1.5, 4];

function surveyed(random: RandomStream, height: Height): Surface {
  const [size, wave, phase] = [gaugeUm * (2 * random.uniform() - 1), 8 + 50 * random.uniform(), 6.3 * random.uniform()];
  const curve = (z: number) => size * Math.sin((6.283 * z) / wave + phase);
  return aMap(
    (x, y) => {
      const z = height((x - 260) / 240, (y - 120) / 100);
      return z + curve(z) + noiseUm * random.normal();
    },
    { noiseUm, gaugeUm },
  );
}

/** an underside rocked by hand: two corners down, or a wave along it; anything up to the limit */
function undersideUm(random: RandomStream, { xMm, yMm }: BeddingNet): number[] {
  const [a, b, c] = [random.uniform() - 0.5, random.uniform() - 0.5, random.uniform() - 0.5];
  const form = xMm.map((x, k) => {
    const [u, v] = [(x - 260) / 200, (yMm[k]! - 120) / 90];
    return a * Math.sin(1.6 * u + 3 * c) + b * u * v + c * v * v;
  });
  const span = Math.max(...form) - Math.min(...form);
  const size = flatWithinUm * random.uniform();
  return form.map((z) => (z * size) / span);
}

it("holds the planted spring-back in about 95 of 100 intervals", () => {
  const cases = 40;
  const down = aHoldDown();
  const hits = new Map<string, { hits: number; of: number }>();
  let [held, below] = [0, 0];
  for (let seed = 1; seed <= cases; seed++) {
    const random = randomStream(seed, 38);
    const [law, height] = tableOf(random);
    const map = surveyed(random, height);
    const net = beddingNet(down.plate, map);
    const under = undersideUm(random, net);
    const bedMm = Float64Array.from(
      net.xMm,
      (x, k) => (height((x - 260) / 240, (net.yMm[k]! - 120) / 100) + under[k]!) / 1000,
    );
    const { low, high } = down.preload;
    const preloadsN = down.plate.screws.map(() => low.in("N") + (high.in("N") - low.in("N")) * random.uniform());
    const tight = heightsOf(net, stiffnessOf(net), { bedMm, preloadsN });
    const plane = leastSquaresPlane(net.xMm, net.yMm, tight);
    const trueUm = 1000 * (plane.highest - plane.lowest);
    const { springBack } = bedding(map, down, { underside: { flatWithin: um(flatWithinUm) }, draws: 100, seed });
    const hit = springBack.low.in("um") <= trueUm && trueUm <= springBack.high.in("um");
    held += hit ? 1 : 0;
    below += trueUm < springBack.low.in("um") ? 1 : 0;
    const row = hits.get(law) ?? { hits: 0, of: 0 };
    hits.set(law, { hits: row.hits + (hit ? 1 : 0), of: row.of + 1 });
    console.log(law, trueUm.toFixed(1), String(springBack.low), String(springBack.middle), String(springBack.high));
  }
  const half = 3.29 * Math.sqrt(cases * 0.95 * 0.05);
  const band = [Math.ceil(0.95 * cases - half), cases] as const;
  console.log(
    `spring-back: ${held} of ${cases}, claimed 95 %, band ${band.join(" to ")}; below the interval ${below}, above it ${cases - held - below}`,
  );
  for (const [law, { hits: own, of }] of hits) console.log(`  ${law}: ${own} of ${of}`);
  expect(held).toBeGreaterThanOrEqual(band[0]);
});
