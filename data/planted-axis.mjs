// Positioning tests and the small-move ladder of the invented bed mill: the planted truth and the sheets drawn from it.
// Plain JavaScript that imports nothing of the package.

import { generator } from "./planted.mjs";

/** The truth of both axes. Deviations in µm, places in mm. */
export const axisTruth = {
  X: {
    leadMm: 5,
    motorTurnsPerScrewTurn: 1.5,
    fullStepsPerTurn: 200,
    microsteps: 8,
    playUm: 14,
    pitchUmPerM: 42,
    periodic: { periodMm: 5, amplitudeUm: 3.2, phaseDeg: 40 },
    bowUm: 4,
    driftUmPerMin: 0.05,
    noiseUm: 1.1,
  },
  Z: {
    leadMm: 4,
    motorTurnsPerScrewTurn: 1,
    playUm: 3,
    pitchUmPerM: -65,
    periodic: { periodMm: 4, amplitudeUm: 0.6, phaseDeg: 0 },
    bowUm: 0,
    driftUmPerMin: 0.02,
    noiseUm: 1.3,
  },
  ladder: { axis: "X", atMm: 250, stepUm: 5, playUm: 14, noiseUm: 0.7, stuckUp: [] },
  // as Z hangs the weight holds it on one flank and a reversal is wind-up alone; pulled up it lies on the other
  ladderZ: {
    axis: "Z",
    atMm: 160,
    stepUm: 10,
    windUpUm: 3,
    playUm: 18,
    pullN: 900,
    weightN: 690,
    springOfPullUm: 3,
    liftUm: 21,
    noiseUm: 0.8,
  },
};

const targets = {
  X: [21.3, 69.9, 116.2, 165.8, 212.1, 261.4, 308.7, 357.2, 404.8, 453.1, 501.6],
  Z: [15.2, 66.7, 114.1, 166.3, 213.8, 265.9, 316.4],
};

/** Deviation of an axis at a place: a long bow, the pitch, the screw's turn; lost motion splits the directions. */
export function trueDeviation(truth, targetMm, direction, minutes) {
  const { periodic, playUm, pitchUmPerM, bowUm, driftUmPerMin } = truth;
  const turn = (2 * Math.PI * targetMm) / periodic.periodMm + (periodic.phaseDeg * Math.PI) / 180;
  const half = direction === "up" ? -playUm / 2 : playUm / 2;
  const part = targetMm / 500;
  return (
    (pitchUmPerM * targetMm) / 1000 +
    4 * bowUm * part * (1 - part) +
    periodic.amplitudeUm * Math.cos(turn) +
    half +
    driftUmPerMin * minutes
  );
}

function head({ title, date, axis, temperature }) {
  return [
    `# title: ${title}`,
    "# workshop: Tinmoor Lane club workshop, invented",
    "# machine: second-hand bed mill, invented, with screws and motors of the club's own fitting",
    `# date: ${date}`,
    `# axis: ${axis}`,
    "# gauge: digital plunger indicator, invented",
    "# gauge display: digital",
    "# gauge resolution: 1 µm",
    "# gauge maximum permissible error: 3 µm",
    "# gauge hysteresis: 1 µm",
    "# gauge range: 12 mm",
    "# positive: surface stands high",
    "# sense proven: yes",
    `# reference temperature: ${temperature}`,
  ];
}

function positioningSheet(axis, { seed, title, date, runs }) {
  const truth = axisTruth[axis];
  const draw = generator(seed);
  const lines = [
    ...head({ title, date, axis, temperature: "18.2 °C" }),
    "# reference: stepped bar on the table, invented",
    "# reference scale limit: 15 µm/m",
    "# reference alignment limit: 1 mm/m",
    "# temperature difference limit: 0.5 K",
    "# expansion difference limit: 2 um/(m.K)",
    "target/mm,direction,run,deviation/um,time,temperature/degC",
  ];
  let minutes = 0;
  const zero = trueDeviation(truth, targets[axis][0], "up", 0);
  for (let run = 1; run <= runs; run++) {
    for (const direction of ["up", "down"]) {
      const course = direction === "up" ? targets[axis] : targets[axis].toReversed();
      for (const target of course) {
        minutes += 0.6;
        const seen = trueDeviation(truth, target, direction, minutes) - zero + truth.noiseUm * draw.normal();
        const read = Math.round(seen);
        const clock = `${19 + Math.floor((10 + minutes) / 60)}:${String(Math.floor(10 + minutes) % 60).padStart(2, "0")}`;
        const warmth = (18.0 + 0.004 * minutes).toFixed(1);
        lines.push([target, direction, run, read === 0 ? 0 : read, clock, warmth].join(","));
      }
    }
    minutes += 2;
  }
  return `${lines.join("\n")}\n`;
}

/** Small moves up, then down: the axis follows the way up, stands still until the play is taken up, and follows again. */
function* ladderReadings(draw, { stepUm, playUm, noiseUm, liftUm = 0 }) {
  const steps = 12;
  const course = Array.from({ length: 2 * steps + 1 }, (_, k) => stepUm * (steps - Math.abs(steps - k)));
  let position = 0;
  for (const command of course) {
    position = Math.min(Math.max(position, command), command + playUm);
    const read = Math.round(position + liftUm + noiseUm * draw.normal());
    yield `${command},${read === 0 ? 0 : read}`;
  }
}

function ladderSheet(seed) {
  const lines = [
    ...head({ title: "small moves of X, up and down", date: "2026-10-25", axis: "X", temperature: "18.1 °C" }),
    "commanded/um,reading/um",
    ...ladderReadings(generator(seed), axisTruth.ladder),
  ];
  return `${lines.join("\n")}\n`;
}

/** The same of Z, as it hangs and pulled up: the pull moves the nut to its other flank and stretches the drive a little. */
function laddersOfZ(seed) {
  const { stepUm, windUpUm, noiseUm, liftUm, pullN } = axisTruth.ladderZ;
  const draw = generator(seed);
  const sheet = (how, more, readings) =>
    `${[...head({ title: `small moves of Z, ${how}`, date: "2026-10-26", axis: "Z", temperature: "18.1 °C" }), ...more, "commanded/um,reading/um", ...readings].join("\n")}\n`;
  const moves = { stepUm, playUm: windUpUm, noiseUm };
  const free = [...ladderReadings(draw, moves)];
  const pulled = [...ladderReadings(draw, { ...moves, liftUm })];
  const released = Math.round(windUpUm + noiseUm * draw.normal());
  return {
    free: sheet("as it hangs", [], free),
    pulled: sheet("pulled up", [`# pull: upward, ${pullN} N`, `# reading after release: ${released} µm`], pulled),
  };
}

/** sheets by name, each with the date it was closed */
export function inventAxis() {
  const ofZ = laddersOfZ(20261028);
  return {
    "positioning-x.csv": {
      text: positioningSheet("X", { seed: 20261025, title: "positioning of X", date: "2026-10-25", runs: 5 }),
      closed: "2026-10-25",
    },
    "positioning-z.csv": {
      text: positioningSheet("Z", {
        seed: 20261026,
        title: "positioning of Z, quill locked",
        date: "2026-10-26",
        runs: 5,
      }),
      closed: "2026-10-26",
    },
    "ladder-x.csv": { text: ladderSheet(20261027), closed: "2026-10-25" },
    "ladder-z-free.csv": { text: ofZ.free, closed: "2026-10-26" },
    "ladder-z-pulled.csv": { text: ofZ.pulled, closed: "2026-10-26" },
  };
}
