import { describe, expect, it } from "vitest";
import { followingMoves, oddMoves, slopeOfFollowing, smallestSeen } from "../../kernel-lib/src/axis/following-moves.js";
import { placesWithPlay } from "../../kernel-lib/src/axis/play-likelihood.js";

const commandedUm = [0, 10, 20, 30, 40, 30, 20, 10, 0, -10];
/** play of 12 µm: 10 µm of it are lost in the first move down, 2 µm in the second */
const modelUm = placesWithPlay(commandedUm, 12);
const ladder = (readingsUm: readonly number[]) => ({ commandedUm, readingsUm, modelUm });

it("places an axis with play: up with the command, still until the play is taken up, then down", () => {
  expect(modelUm).toEqual([0, 10, 20, 30, 40, 40, 32, 22, 12, 2]);
  expect(placesWithPlay([5, 8, 5, 2], 0)).toEqual([5, 8, 5, 2]);
});

it("follows where the fitted play lets a move through, to less than a twentieth of it", () => {
  expect(followingMoves(commandedUm, modelUm)).toEqual([0, 1, 2, 3, 6, 7, 8]);
  expect(followingMoves([0, 10, 20, 10], [0, 9.51, 19, 8.5])).toEqual([0]);
  // 10.5 and 19 − 9.5 are off by a twentieth exactly, down as up
  expect(followingMoves([0, 10, 20, 10], [0, 9.5, 20, 10.5])).toEqual([]);
});

describe("of moves that follow", () => {
  const following = [0, 1, 2, 3, 6, 7, 8];
  const odd = (readings: readonly number[], scatter = 0) => {
    const found = oddMoves(ladder(readings), following, scatter);
    const plain = (moves: typeof found.lost) =>
      moves.map(({ move, commanded, seen }) =>
        [move, commanded.in("um"), seen.in("um")].map((v) => Number(v.toFixed(9))),
      );
    return { hidden: found.hidden, lost: plain(found.lost), jumps: plain(found.jumps) };
  };

  it("less than half is lost and more than half as much again is a jump, both ways", () => {
    expect(odd([0, 4.9, 20, 30, 40, 40, 32, 28, 12, 2])).toEqual({
      hidden: false,
      lost: [
        [1, 10, 4.9],
        [7, -10, -4],
      ],
      jumps: [
        [2, 10, 15.1],
        [8, -10, -16],
      ],
    });
  });
  it("the half itself is neither", () => {
    expect(odd([0, 5, 20, 30, 40, 40, 32, 27, 12, 2])).toEqual({ hidden: false, lost: [], jumps: [] });
  });
  it("none is told once two steps of the scatter go beyond half a move", () => {
    const lame = [0, 0, 20, 30, 40, 40, 32, 22, 12, 2];
    expect(odd(lame, 2.5).hidden).toBe(false);
    expect(odd(lame, 2.5).lost).toEqual([[1, 10, 0]]);
    expect(odd(lame, 2.51)).toEqual({ hidden: true, lost: [], jumps: [] });
  });
  it("a move in the play counts as none of them", () => {
    expect(odd([0, 10, 20, 30, 40, 40, 40, 22, 12, 2]).lost).toEqual([]);
  });
});

describe("the smallest move seen", () => {
  const following = [0, 1, 2, 3, 6, 7, 8];
  const seen = (readings: readonly number[], moves = following) => smallestSeen(ladder(readings), moves)?.in("um");

  it("is one move where each went half of its way at least", () => {
    expect(seen(modelUm)).toBeCloseTo(10, 9);
    expect(seen([0, 5, 15, 25, 35, 35, 32, 27, 22, 17])).toBeCloseTo(10, 9);
  });
  it("is two moves where one alone did not", () => {
    expect(seen([0, 4, 20, 30, 40, 40, 32, 22, 12, 2])).toBeCloseTo(20, 9);
  });
  it("is three where of two the half was not reached either, the way down looked at too", () => {
    expect(seen([0, 10, 20, 30, 40, 40, 32, 32, 32, 2])).toBeCloseTo(30, 9);
  });
  it("is missing where none was seen, or where fewer than two could be", () => {
    expect(seen(commandedUm.map(() => 0))).toBeUndefined();
    expect(seen(modelUm, [0])).toBeUndefined();
    expect(seen(modelUm, [])).toBeUndefined();
    expect(seen(modelUm, [0, 2])).toBeCloseTo(10, 9);
  });
  it("is the greatest of the spans where the moves differ", () => {
    const uneven = [0, 10, 30, 45, 55];
    expect(
      smallestSeen({ commandedUm: uneven, readingsUm: uneven, modelUm: uneven }, [0, 1, 2, 3])?.in("um"),
    ).toBeCloseTo(20, 9);
  });
});

describe("the slope where the axis follows", () => {
  it("is that of both branches at once, each with its own height", () => {
    const scaled = commandedUm.map((command, i) => 1.02 * command + (i > 4 ? 9 : 0.5));
    const found = slopeOfFollowing({ commandedUm, readingsUm: scaled, modelUm }, 12);
    expect(found.value.si).toBeCloseTo(1.02, 12);
    // an exact line keeps the least u that is written
    expect(found.standardUncertainty.si).toBeCloseTo(1e-9, 15);
    expect(found.terms.map(({ input }) => [input.label, input.source, input.distribution])).toEqual([
      ["scatter about the line", "9 readings", "t"],
    ]);
  });
  it("has the u of a line fit (JCGM 100:2008, H.3), the heights of both branches taken out", () => {
    const off = [1, -1, 0.5, -0.5, 0, 0, 0, 0.7, -0.4, -0.3];
    const readingsUm = modelUm.map((place, i) => place + off[i]!);
    const found = slopeOfFollowing({ commandedUm, readingsUm, modelUm }, 12);
    // up: 0 to 40; down: below 40 − 12 only
    const branches = [
      [0, 1, 2, 3, 4],
      [6, 7, 8, 9],
    ].map((kept) => {
      const mean = (values: readonly number[]) => kept.reduce((sum, i) => sum + values[i]!, 0) / kept.length;
      const [x, y] = [mean(commandedUm), mean(readingsUm)];
      return kept.map((i) => [commandedUm[i]! - x, readingsUm[i]! - y] as const);
    });
    const all = branches.flat();
    const xx = all.reduce((sum, [x]) => sum + x * x, 0);
    const slope = all.reduce((sum, [x, y]) => sum + x * y, 0) / xx;
    const left = all.reduce((sum, [x, y]) => sum + (y - slope * x) ** 2, 0);
    expect(found.value.si).toBeCloseTo(slope, 12);
    expect(found.standardUncertainty.si).toBeCloseTo(Math.sqrt(left / (9 - 3) / xx), 12);
    expect(found.effectiveDegreesOfFreedom).toBe(6);
    expect(found.terms[0]!.input.source).toBe("9 readings");
  });
  it("stands on the way up alone where the way down ends in the play", () => {
    const short = [0, 10, 20, 30, 20, 10];
    const readingsUm = [0, 10.2, 20, 30.2, 30, 30];
    const found = slopeOfFollowing({ commandedUm: short, readingsUm, modelUm: readingsUm }, 25);
    expect(found.terms[0]!.input.source).toBe("4 readings");
    expect(found.effectiveDegreesOfFreedom).toBe(2);
    // by hand: Σ (x − 15)(y) / 500 with y = 0, 10.2, 20, 30.2
    expect(found.value.si).toBeCloseTo((15 * 30.2 + 5 * (20 - 10.2)) / 500, 12);
  });
});
