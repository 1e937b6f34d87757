import * as fc from "fast-check";
import { program } from "../../kernel-lib/src/facing/program.js";
import type { FacingJob } from "../../kernel-lib/src/facing/program-job.js";
import { area } from "../../kernel-lib/src/facing/reach.js";
import { replay } from "../../kernel-lib/src/facing/replay.js";
import { mm, mmPerMin, perMin, seconds, umPerM } from "../../kernel-lib/src/quantity/index.js";
import { evenly } from "../evenly.js";
import { aJob, aTop, usualFrame } from "./a-job.js";

/** Jobs that are right, of all sizes. */
export const goodJob: fc.Arbitrary<FacingJob> = fc
  .record({
    x0: evenly(60, 80),
    y0: evenly(60, 80),
    width: evenly(20, 300),
    depth: evenly(20, 140),
    diameter: evenly(12, 63),
    teeth: fc.integer({ min: 1, max: 6 }),
    step: evenly(0.1, 0.9),
    feedPerTooth: evenly(0.03, 0.2),
    speed: evenly(100, 3000),
    runOut: evenly(0.5, 5),
    feedAlong: fc.constantFrom("x" as const, "y" as const),
    more: fc.array(evenly(0.1, 0.4), { minLength: 1, maxLength: 3 }),
    repeat: fc.boolean(),
    arbor: evenly(8, 120),
    hangs: evenly(0.001, 40),
    zero: evenly(-50, 300),
  })
  // a wide step with a long run-out leaves the last lane to climbing teeth and is refused
  .filter(({ step, diameter, runOut }) => step <= 0.5 || (step - 0.5) * diameter < diameter / 2 - runOut)
  .map((made) => {
    const levels = made.more.map((_, i) => made.more.slice(0, i + 1).reduce((a, b) => a + b, 0));
    const rounds = levels.map((level) => ({ depth: mm(level) }));
    const deepest = levels.at(-1)!;
    return aJob({
      frame: usualFrame,
      travel: area(mm(0), mm(480), mm(0), mm(320)),
      plate: area(mm(made.x0), mm(made.x0 + made.width), mm(made.y0), mm(made.y0 + made.depth)),
      zero: { x: mm(made.zero), y: mm(-made.zero) },
      cutter: {
        diameter: mm(made.diameter),
        teeth: made.teeth,
        greatestSpeed: perMin(3000),
        // just clear of the plate by the margin, or further
        holder: [{ name: "arbor", diameter: mm(made.arbor), above: mm(deepest + 0.5 + made.hangs) }],
      },
      speed: perMin(made.speed),
      feedPerTooth: mm(made.feedPerTooth),
      feedDown: mmPerMin(80),
      stepOver: mm(made.step * made.diameter),
      runOut: mm(made.runOut),
      feedAlong: made.feedAlong,
      rounds: made.repeat ? [...rounds, { depth: mm(deepest), offsetByHalfStep: true }] : rounds,
      floor: mm(-deepest - 0.2),
      spinUp: seconds(3),
      screws: [],
      obstacles: [],
    });
  });

/** What is wrong with the replay of a job's own program; "" where it passes as it should. */
export function wrongWithOwnProgram(job: FacingJob, leanUmPerM: number): string {
  const tilt = { x: umPerM(leanUmPerM), y: umPerM(-leanUmPerM) };
  const done = replay(
    program(job).text,
    job,
    aTop(job, (u) => 20 * u),
    { tilt },
  );
  return done.passes ? "" : `${done} ${JSON.stringify(done.refusals[0])}`;
}

/** Damage to a text: pieces cut out, doubled, or replaced by what programs go wrong with. */
export const blows = fc.array(
  fc.record({
    at: evenly(0, 1),
    length: fc.integer({ min: 0, max: 40 }),
    put: fc.oneof(
      fc.constantFrom(
        "",
        "\n",
        "\r\n",
        "(",
        ")",
        ";",
        "%",
        ".",
        "-",
        "G0 ",
        "G1 ",
        "G91",
        "G2 X1.0 ",
        "M3",
        "M5\n",
        "X",
        "Z-9.0",
        "F99999.",
        "1e9",
        "٣",
        "\0",
        "NaN",
      ),
      fc.string({ unit: "binary", maxLength: 5 }),
    ),
  }),
  { minLength: 1, maxLength: 6 },
);

/** Replays or refuses with lines and sentences, within a second; "" where it does. */
export function replaysOrRefuses(job: FacingJob, list: readonly { at: number; length: number; put: string }[]): string {
  let text = program(job).text;
  for (const { at, length, put } of list) {
    const start = Math.floor(at * text.length);
    text = text.slice(0, start) + put + text.slice(start + length);
  }
  const started = process.cpuUsage();
  const done = replay(text, job, aTop(job), { pitch: mm(5) });
  const lines = text.split(/\r?\n/).length;
  for (const { line, sentence } of done.refusals) {
    if (!(Number.isInteger(line) && line >= 1 && line <= lines)) return `line ${line} of ${lines}`;
    if (/undefined|\[object|NaN|Infinity/.test(sentence.replaceAll(/"(?:[^"\\]|\\.)*"/g, ""))) return sentence;
    if (sentence.endsWith(".")) return `ends in a period: ${sentence}`;
  }
  if (done.passes !== (done.refusals.length === 0)) return "neither passes nor refuses";
  const { user, system } = process.cpuUsage(started);
  return user + system < 1e6 ? "" : "took more than a second of the processor";
}
