import { describe, expect, it } from "vitest";
import {
  type LevelReading,
  type LevelSurvey,
  levelNetwork,
  levelRuns,
  makeUp,
  spindleTram,
  squareness,
  unionJackLines,
} from "../../kernel-lib/src/form/index.js";
import { leastSquaresPlane, minimumZonePlane, randomStream } from "../../kernel-lib/src/numerics/index.js";
import { deg, mm, um, umPerM } from "../../kernel-lib/src/quantity/index.js";
import { gauge } from "../../kernel-lib/src/survey/index.js";
import { binomialBand } from "../form/coverage.js";

const frame = { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" } as const;
// a tenth of the scatter: neither its steps nor its scale hide what the scatter does
const instrument = { name: "block level", resolution: umPerM(0.1), maximumPermissibleError: umPerM(0.1) };
type Stream = ReturnType<typeof randomStream>;
type Run = { line: string; start: { xMm: number; yMm: number }; end: { xMm: number; yMm: number }; foot: number };

const bent = (x: number, y: number) => {
  const [u, v] = [(x - 240) / 240, (y - 180) / 180];
  return 8 * u * u + 2.5 * u * v - 3 * v * v + 0.02 * x - 0.03 * y;
};
const grid: readonly Run[] = [
  ...[0, 120, 240, 360].map((yMm) => ({
    line: `row ${yMm}`,
    start: { xMm: 0, yMm },
    end: { xMm: 480, yMm },
    foot: 120,
  })),
  ...[0, 120, 240, 360, 480].map((xMm) => ({
    line: `column ${xMm}`,
    start: { xMm, yMm: 0 },
    end: { xMm, yMm: 360 },
    foot: 120,
  })),
];
const jack: readonly Run[] = unionJackLines({ xMm: [0, 480], yMm: [0, 360] }, mm(60)).map(
  ({ foot, steps, ...run }) => ({
    ...run,
    foot: foot.in("mm"),
  }),
);
const frameOnly: readonly Run[] = grid.filter(({ line }) => /^(row (0|360)|column (0|480))$/.test(line));
const line: readonly Run[] = [{ line: "guide", start: { xMm: 0, yMm: 0 }, end: { xMm: 960, yMm: 0 }, foot: 120 }];

function survey(runs: readonly Run[], stream: Stream, both: boolean, noise = 2): LevelSurvey {
  const made = runs.map(({ line: name, start, end, foot }) => {
    const steps = Math.round(Math.hypot(end.xMm - start.xMm, end.yMm - start.yMm) / foot);
    const at = (i: number) =>
      bent(start.xMm + ((end.xMm - start.xMm) * i) / steps, start.yMm + ((end.yMm - start.yMm) * i) / steps);
    const read = (sign: 1 | -1) =>
      Array.from({ length: steps }, (_, i) =>
        umPerM((sign * (at(i + 1) - at(i)) * 1000) / foot + 9 + noise * stream.normal()),
      );
    return { line: name, start, end, foot: mm(foot), readings: read(1), ...(both ? { turned: read(-1) } : {}) };
  });
  return { name: "table", frame, instrument, ...(both ? {} : { tilt: "not wanted" as const }), ...levelRuns(made) };
}

const inBand = (hits: number, count: number, what: string, rate = 0.95) => {
  const [low, high] = binomialBand(count, rate);
  console.log(`${what}: ${hits} of ${count}, band ${low} to ${high}`);
  expect(hits, what).toBeGreaterThanOrEqual(low);
  expect(hits, what).toBeLessThanOrEqual(high);
};

describe("level networks, the long run", () => {
  it("hold planted tilts, rise and twist of a grid within U at the claimed rate", { timeout: 400_000 }, () => {
    const count = 1000;
    const stream = randomStream(801);
    const hits = { x: 0, y: 0, rise: 0, twist: 0 };
    // the plane through the places takes no tilt from bows and twist of a grid about its middle
    for (let run = 0; run < count; run++) {
      const network = levelNetwork(survey(grid, stream, true));
      const [x, y, rise] = [network.tilt("x"), network.tilt("y"), network.rise("(0, 0)", "(480, 360)")];
      const twist = makeUp(network.surface()).twist.amplitude;
      hits.x += Math.abs(x.in("um/m") - 20) <= x.expandedUncertainty().in("um/m") ? 1 : 0;
      hits.y += Math.abs(y.in("um/m") + 30) <= y.expandedUncertainty().in("um/m") ? 1 : 0;
      const planted = bent(480, 360) - bent(0, 0);
      hits.rise += Math.abs(rise.in("um") - planted) <= rise.expandedUncertainty().in("um") ? 1 : 0;
      hits.twist += Math.abs(twist.in("um") - 10) <= twist.expandedUncertainty().in("um") ? 1 : 0;
    }
    for (const [what, held] of Object.entries(hits)) inBand(held, count, `grid, ${what}`);
  });

  it.each([
    ["grid", grid],
    ["union jack", jack],
  ] as const)(
    "hold the flatness of a %s within U, about least squares and as minimum zone",
    (name, runs) => {
      const count = 300;
      const stream = randomStream(name.length * 101);
      const { places } = survey(runs, stream, true);
      const [x, y] = [places.map(({ xMm }) => xMm), places.map(({ yMm }) => yMm)];
      const z = places.map(({ xMm, yMm }) => bent(xMm, yMm));
      const { highest, lowest } = leastSquaresPlane(x, y, z);
      const { zone } = minimumZonePlane(x, y, z);
      const hits = { squares: 0, zone: 0 };
      for (let run = 0; run < count; run++) {
        const network = levelNetwork(survey(runs, stream, true), { seed: run + 1 });
        const [pv, mz] = [network.overall, network.minimumZone.corrected];
        hits.squares += Math.abs(pv.in("um") - (highest - lowest)) <= pv.expandedUncertainty().in("um") ? 1 : 0;
        hits.zone += Math.abs(mz.in("um") - zone) <= mz.expandedUncertainty().in("um") ? 1 : 0;
      }
      inBand(hits.squares, count, `${name}, peak to valley`);
      inBand(hits.zone, count, `${name}, minimum zone`);
    },
    590_000,
  );
});

/** plants a blunder of 12 times the scatter in each reading in turn, and says what became of it */
function planted(runs: readonly Run[], both: boolean, seed: number) {
  const stream = randomStream(seed);
  const count = survey(runs, stream, both).readings.length;
  const found = { named: 0, orInstead: 0, missed: 0, blind: 0, count };
  for (let k = 0; k < count; k++) {
    const clean = survey(runs, stream, both);
    const readings = clean.readings.map((r, i) =>
      i === k ? { ...r, inclination: r.inclination.plus(umPerM(24)) } : r,
    );
    const network = levelNetwork({ ...clean, readings });
    const own = network.readings[k]!;
    const name = ({ line: of, from, to }: LevelReading) => `line ${of}, ${from} to ${to}`;
    if (own.verdict === "stands out") found.named++;
    else if (network.suspects.some(({ orInstead }) => orInstead.includes(name(own)))) found.orInstead++;
    else if (own.verdict === "can't be checked") found.blind++;
    else found.missed++;
  }
  return found;
}

describe("a blunder in a level survey", () => {
  it.each([
    ["grid, both ways", grid, true],
    ["union jack, both ways", jack, true],
    ["round the rim, both ways", frameOnly, true],
    ["grid, one way", grid, false],
    ["one line, both ways", line, true],
  ] as const)(
    "%s: is found, or named beside the one that is",
    (name, runs, both) => {
      const found = planted(runs, both, 77 + name.length);
      console.log(`${name}: ${JSON.stringify(found)}`);
      // of those that can be checked at least 95 in 100
      const checked = found.count - found.blind;
      expect(found.named + found.orInstead).toBeGreaterThanOrEqual(0.95 * checked);
    },
    200_000,
  );

  it.each([
    ["one line, one way", line],
    ["round the rim, one way", frameOnly],
  ] as const)("%s: can't be checked, and the network says so of every reading", (name, runs) => {
    const found = planted(runs, false, 5);
    console.log(`${name}: ${JSON.stringify(found)}`);
    expect(found.blind).toBe(found.count);
  });

  it("is seen in at most one of 20 clean surveys", { timeout: 200_000 }, () => {
    const stream = randomStream(4242);
    const count = 600;
    let alarms = 0;
    for (let run = 0; run < count; run++)
      alarms += levelNetwork(survey(grid, stream, true)).suspects.length > 0 ? 1 : 0;
    inBand(alarms, count, "grid, clean, alarms", 0.05);
  });
});

describe("tram and squareness, the long run", () => {
  const dial = gauge({ name: "dial", resolution: um(0.01), maximumPermissibleError: um(0.01) });

  it("hold a planted tilt at 4, 6 and 12 places, at the claimed rate", () => {
    const count = 2000;
    for (const places of [4, 6, 12]) {
      const stream = randomStream(900 + places);
      let [x, y] = [0, 0];
      for (let run = 0; run < count; run++) {
        const readings = Array.from({ length: places }, (_, i) => {
          const turn = (2 * Math.PI * i) / places;
          return {
            angle: deg((360 * i) / places),
            reading: um(6 * Math.cos(turn) - 3 * Math.sin(turn) + stream.normal()),
          };
        });
        const { lean } = spindleTram({ name: "head", radius: mm(100), gauge: dial, readings });
        x += Math.abs(lean.x.in("um/m") - 60) <= lean.x.expandedUncertainty().in("um/m") ? 1 : 0;
        y += Math.abs(lean.y.in("um/m") + 30) <= lean.y.expandedUncertainty().in("um/m") ? 1 : 0;
      }
      inBand(x, count, `tram, ${places} places, along X`);
      inBand(y, count, `tram, ${places} places, along Y`);
    }
  });

  it("tell the axes and the square apart at the claimed rate", () => {
    const [count, stream] = [2000, randomStream(31)];
    const leg = (perM: number) =>
      [0, 50, 100, 150, 200].map((at) => ({ at: mm(at), reading: um((perM * at) / 1000 + 0.6 * stream.normal()) }));
    let [axes, square] = [0, 0];
    for (let run = 0; run < count; run++) {
      // axes 45 µm/m wide, square 12 µm/m narrow
      const found = squareness({
        name: "Y to X",
        gauge: dial,
        first: leg(8),
        second: leg(8 - 57),
        turnedOver: { first: leg(-9), second: leg(-9 - 33) },
      });
      axes += Math.abs(found.angle.in("um/m") - 45) <= found.angle.expandedUncertainty().in("um/m") ? 1 : 0;
      const own = found.square!;
      square += Math.abs(own.in("um/m") + 12) <= own.expandedUncertainty().in("um/m") ? 1 : 0;
    }
    inBand(axes, count, "squareness of the axes");
    inBand(square, count, "squareness of the square");
  });
});
