import { describe, expect, it } from "vitest";
import { arrangeReadings, needNoMissedTurn, type PlainReading } from "../../kernel-lib/src/axis/arranged-readings.js";
import { refusal } from "../refusal.js";

const reading = (targetMm: number, direction: "up" | "down", run: number, deviationUm = 0): PlainReading => ({
  ...{ targetMm, direction, run, deviationUm },
});
const where = (i: number) => `line ${i + 1}`;
const arrange = (readings: readonly PlainReading[]) => arrangeReadings(readings, "test X", where);

it("sorts the targets by their size and keeps the runs in the order in which they were taken", () => {
  const run = (number: number) => [
    ...[-5, 20, 100].map((at) => reading(at, "up", number)),
    ...[100, 20, -5].map((at) => reading(at, "down", number)),
  ];
  expect(arrange([...run(2), ...run(1)])).toEqual({
    targetsMm: [-5, 20, 100],
    runs: [2, 1],
    at: {
      up: [
        [0, 6],
        [1, 7],
        [2, 8],
      ],
      down: [
        [5, 11],
        [4, 10],
        [3, 9],
      ],
    },
  });
});

describe("refuses", () => {
  const twice = (run: number) => [reading(0, "up", run), reading(40, "up", run)];
  it("readings of one side, whichever it is", () => {
    expect(
      refusal(() =>
        arrange(
          twice(1)
            .map((one) => ({ ...one, direction: "down" as const }))
            .reverse(),
        ),
      ).message,
    ).toBe(
      "test X: all 2 readings were approached downwards; read every target from the other side too, as lost motion shows in no other way",
    );
  });
  it("a target that is read again before the axis has moved on, in either direction", () => {
    const down = [reading(40, "down", 1), reading(0, "down", 1)];
    expect(refusal(() => arrange([...twice(1), reading(40, "up", 1), ...down]))).toEqual({
      code: "targets-out-of-order",
      message:
        "line 3: target 40 mm comes after 40 mm in run 1, up; targets must rise on the way up, or the approach is not what the sheet says",
    });
    expect(refusal(() => arrange([...twice(1), ...down.toReversed()])).message).toBe(
      "line 4: target 40 mm comes after 0 mm in run 1, down; targets must fall on the way down, or the approach is not what the sheet says",
    );
  });
  it("a run with a reading too many, and names its direction", () => {
    const run = (number: number) => [...twice(number), reading(40, "down", number), reading(0, "down", number)];
    expect(refusal(() => arrange([...run(1), ...run(2).slice(0, 3)])).message).toBe(
      "test X: target 0 mm has 1 reading down and there are 2 runs; read what is missing, or leave the run out everywhere",
    );
    expect(refusal(() => arrange([...run(1), ...run(2).slice(0, 1), ...run(2).slice(2)])).message).toBe(
      "test X: target 40 mm has 1 reading up and there are 2 runs; read what is missing, or leave the run out everywhere",
    );
  });
});

describe("a missed turn of the pointer", () => {
  /** the readings of 40 mm in one direction, run after run; those of 0 mm and of the other direction agree */
  function look(values: readonly number[], direction: "up" | "down" = "up") {
    const at = (one: "up" | "down", run: number, value: number) =>
      reading(40, one, run + 1, one === direction ? value : 7);
    const readings = values.flatMap((value, run) => [
      reading(0, "up", run + 1, -3),
      at("up", run, value),
      at("down", run, value),
      reading(0, "down", run + 1, -3),
    ]);
    return () => needNoMissedTurn(readings, arrange(readings), 200, where);
  }
  const found = (values: readonly number[], direction?: "up" | "down") => refusal(look(values, direction)).message;
  const sentence = (line: number, value: string, direction: string, turns: string, from: string) =>
    `line ${line}: ${value} µm at 40 mm, ${direction}, stands about ${turns} of the pointer (200 µm each) from ${from} µm of another run; the small hand was missed in one of them: read it again, or write the whole reading`;

  it("is one to a quarter of a turn, more or less, and not beyond", () => {
    for (const off of [150, 200, 250]) {
      expect(found([0, 0, off])).toBe(sentence(10, `${off}`, "up", "one turn", "0"));
      expect(found([0, 0, -off])).toBe(sentence(10, `−${off}`, "up", "one turn", "0"));
    }
    for (const off of [0, 50, 99, 101, 149, 251, 349, -149, -251]) expect(look([0, 0, off])).not.toThrow();
  });
  it("may be several of them, in both directions", () => {
    expect(found([1, 2, 403], "down")).toBe(sentence(11, "403", "down", "2 turns", "2"));
    expect(found([1, -601, 2], "down")).toBe(sentence(7, "−601", "down", "3 turns", "1"));
  });
  it("of an even count of runs is told against the lower of the middle two", () => {
    expect(found([0, 200])).toBe(sentence(6, "200", "up", "one turn", "0"));
    expect(found([201, 1, 3, 202])).toBe(sentence(2, "201", "up", "one turn", "3"));
    expect(found([9, 10, 210, 11])).toBe(sentence(10, "210", "up", "one turn", "10"));
  });
  it("of an odd count is told against the median", () => {
    expect(found([205, 1, 3, 4, 2])).toBe(sentence(2, "205", "up", "one turn", "3"));
  });
});
