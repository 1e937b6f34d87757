import { describe, expect, it } from "vitest";
import { type SmallMovesOptions, smallMoves } from "../../kernel-lib/src/axis/small-moves.js";
import { parseSmallMoves, readSmallMoves } from "../../kernel-lib/src/axis/small-moves-sheet.js";
import { gauge, newton, um } from "../../kernel-lib/src/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";
import { refusal } from "../refusal.js";

interface Law {
  readonly play: number;
  readonly noise?: number;
  readonly resolution?: number;
  readonly error?: number;
  readonly move?: number;
  readonly seed?: number;
}

/** an axis with play, its places worked out by what drives it: the nut between its two flanks */
function ladder(law: Law, more: Partial<SmallMovesOptions> = {}) {
  const { play, noise = 0, resolution = 1, error = 1, move = 5, seed = 1 } = law;
  const { normal } = randomStream(seed);
  const commanded = Array.from({ length: 25 }, (_, k) => move * (12 - Math.abs(12 - k)));
  let place = 0;
  const readings = commanded.map((command) => {
    if (command > place) place = command;
    if (command < place - play) place = command + play;
    return um(resolution * Math.round((place + noise * normal()) / resolution));
  });
  const dial = gauge({ resolution: um(resolution), maximumPermissibleError: um(error) });
  return smallMoves({ axis: "X", commanded: commanded.map((c) => um(c)), readings, gauge: dial, ...more });
}

it("gives a play back to less than the step of the gauge", () => {
  for (const play of [6, 13.4, 22]) {
    const found = ladder({ play, noise: 0.5 });
    expect(Math.abs(found.play.in("um") - play)).toBeLessThan(0.8);
    expect(found.playIsTold).toBe(true);
  }
});

it("cannot tell 10 µm from nothing by a gauge of 10 µm resolution and ± 10 µm (common practice, no source)", () => {
  const found = ladder({ play: 10, resolution: 10, error: 10 });
  expect(found.playIsTold).toBe(false);
  expect(found.toString()).toContain("with this gauge it cannot be told from nothing");
});

it("knows the play within the step and no better where the gauge is coarse", () => {
  const found = ladder({ play: 13, resolution: 10, error: 0.001, move: 10 });
  const [low, high] = found.playWithin.map((end) => end.in("um"));
  expect(low).toBeLessThan(13);
  expect(high).toBeGreaterThan(13);
  expect(high! - low!).toBeGreaterThan(4);
  expect(high! - low!).toBeLessThan(20);
});

it("gives the same play in thou as in micrometres", () => {
  const rows = [0, 5, 10, 15, 20, 25, 20, 15, 10, 5, 0].map((at, i) => [at, i > 5 ? Math.min(25, at + 9) : at]);
  const head = "# axis: X\n# gauge resolution: 0.1 thou\n# gauge maximum permissible error: 0.1 thou\n";
  const thou = parseSmallMoves(`${head}commanded/tenth,reading/tenth\n${rows.map((r) => r.join(",")).join("\n")}`);
  const scaled = rows.map((row) => row.map((v) => v * 2.54).join(",")).join("\n");
  const metric = parseSmallMoves(`${head}commanded/um,reading/um\n${scaled}`);
  expect(thou.play.in("um")).toBeCloseTo(metric.play.in("um"), 9);
});

it("finds moves that did nothing and the jump after them, where the scatter does not hide them", () => {
  const commanded = [0, 10, 20, 30, 40, 50, 60, 70, 80, 70, 60, 50, 40, 30, 20, 10, 0].map((c) => um(c));
  const readings = [0, 10, 20, 20, 40, 50, 60, 70, 80, 75, 65, 55, 45, 35, 25, 15, 5].map((c) => um(c));
  const dial = gauge({ resolution: um(0.2), maximumPermissibleError: um(1) });
  const found = smallMoves({ axis: "X", commanded, readings, gauge: dial });
  expect(found.lost.map(({ move, seen }) => [move, seen.in("um")])).toEqual([[3, 0]]);
  expect(found.jumps.map(({ move, seen }) => [move, seen.in("um")])).toEqual([[4, 20]]);
  expect(found.notes.join("; ")).toContain("the axis sticks and slips");
  const clear = ladder({ play: 8, noise: 0.05, resolution: 0.2 });
  expect([clear.lost, clear.jumps]).toEqual([[], []]);
  expect(clear.smallestMoveSeen?.in("um")).toBe(5);
});

it("says of Z that its play under cutting load is not tested, unless a pull was kept", () => {
  expect(ladder({ play: 2 }, { axis: "Z" }).notes.join()).toContain("play under cutting load not tested");
  for (const pulled of [{ underPull: true }, { pull: newton(900) }]) {
    const said = ladder({ play: 2 }, { axis: "Z", ...pulled }).notes.join();
    expect(said).not.toContain("not tested");
    expect(said).toContain("this ladder alone may hide the play; hold it against the free one");
  }
});

it("reads how strong a pull was, and refuses one that does not say it", () => {
  const head = "# axis: Z\n# gauge resolution: 1 µm\n# gauge maximum permissible error: 1 µm\n";
  const rows = [0, 5, 10, 15, 10, 5, 0].map((c) => `${c},${c}`).join("\n");
  const sheet = (line: string) =>
    parseSmallMoves(`${head}${line}\ncommanded/um,reading/um\n${rows}`, { name: "sheet" });
  const pulled = sheet("# pull: upward, 200 lbf\n# reading after release: 0.1 thou");
  expect(pulled.pull?.in("N")).toBeCloseTo(889.644, 3);
  expect(pulled.released?.in("um")).toBeCloseTo(2.54, 9);
  expect(refusal(() => sheet("# pull: yes")).message).toBe(
    'sheet line 4: "# pull: yes" is not understood; write which way and how strong, such as "# pull: upward, 900 N"',
  );
});

it("reads the ladder of the demonstration", () => {
  const found = readSmallMoves("data/ladder-x.csv");
  const [low, high] = found.play.interval().map((end) => end.in("um"));
  expect(low).toBeLessThan(14);
  expect(high).toBeGreaterThan(14);
  expect(found.slopeOfFollowing.interval()[0].si).toBeLessThan(1);
  expect(found.slopeOfFollowing.interval()[1].si).toBeGreaterThan(1);
});

describe("is refused", () => {
  const dial = gauge({ resolution: um(1), maximumPermissibleError: um(1) });
  const moves = (commanded: number[], readings = commanded) =>
    refusal(() =>
      smallMoves({
        axis: "X",
        commanded: commanded.map((c) => um(c)),
        readings: readings.map((c) => um(c)),
        gauge: dial,
      }),
    );
  it("a course that is not up and down again", () => {
    expect(moves([0, 5, 3, 10, 5, 0])).toEqual({
      code: "small-moves",
      message:
        "smallMoves: the commands rise 3 times and then fall; go up by three moves at least, each higher than the last, and down again by three",
    });
  });
  it("a count that does not fit", () => {
    expect(moves([0, 5, 10, 15, 10, 5, 0], [1, 2]).message).toBe(
      "smallMoves: 2 readings for 7 commands; give one a command",
    );
  });
});
