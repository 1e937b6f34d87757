import * as fc from "fast-check";
import { expect, it } from "vitest";
import { program } from "../../kernel-lib/src/facing/program.js";
import { replay } from "../../kernel-lib/src/facing/replay.js";
import { mm } from "../../kernel-lib/src/quantity/index.js";
import { aJob, aTop } from "../facing/a-job.js";
import { blows, goodJob, replaysOrRefuses, wrongWithOwnProgram } from "../facing/program-fuzz.js";
import { processorMs } from "../processor-time.js";

const limit = { interruptAfterTimeLimit: 55_000, markInterruptAsFailure: false };

it("passes every program that was written for a right job, 1,000 of them", () => {
  let count = 0;
  fc.assert(
    fc.property(goodJob, fc.integer({ min: -200, max: 200 }), (job, lean) => {
      count++;
      expect(wrongWithOwnProgram(job, lean)).toBe("");
    }),
    { numRuns: 1000, seed: 21, ...limit },
  );
  console.log(`${count} programs passed`);
  expect(count).toBeGreaterThanOrEqual(200);
});

it("replays a damaged text or refuses it with lines and sentences, 10,000 times", () => {
  let count = 0;
  fc.assert(
    fc.property(goodJob, blows, (job, list) => {
      count++;
      expect(replaysOrRefuses(job, list)).toBe("");
    }),
    { numRuns: 10_000, seed: 22, ...limit },
  );
  console.log(`${count} damaged texts`);
  expect(count).toBeGreaterThanOrEqual(1000);
});

it("takes less than a second for a text of 64 kB", () => {
  const job = aJob();
  const lines = program(job).text.split("\n");
  const lane = "G0 X-23.0 Y17.0\nG1 Z-0.3 F100.0\nG1 X143.0 Y17.0 F128.0\nG0 Z5.0";
  const at = lines.indexOf("G1 Z-0.3 F100.0");
  const long = [...lines.slice(0, at), ...Array.from({ length: 1000 }, () => lane), ...lines.slice(at)].join("\n");
  expect(long.length).toBeGreaterThan(64_000);
  const took = processorMs(() => expect(replay(long, job, aTop(job), { pitch: mm(1) }).refusals).toEqual([]));
  console.log(`${long.length} characters, ${took.toFixed(0)} ms of the processor`);
  expect(took).toBeLessThan(1000);
});
