import { expect, it } from "vitest";
import { periodColumns } from "../../kernel-lib/src/axis/periodic-columns.js";
import { periodsOf } from "../../kernel-lib/src/axis/periods.js";
import { mm } from "../../kernel-lib/src/index.js";
import { refusal } from "../refusal.js";

const aliased = (targetsMm: readonly number[], ...periodsMm: number[]) =>
  periodColumns(
    targetsMm,
    periodsMm.map((periodMm) => ({ name: "turn", periodMm })),
  ).map((column) => column.aliased);
const whole =
  "turn (5 mm): the targets stand whole periods apart, so that it looks like a constant; it can't be told, choose targets with random offsets";
const like =
  "turn (5 mm): at these targets it looks like a slope, a constant or another period; it can't be told, choose targets with random offsets";

it("gives cosine and sine of the place in its turn", () => {
  const [column] = periodColumns([0, 1.25, 2.5, 3.75, 5.625], [{ name: "turn of the screw", periodMm: 5 }]);
  const half = Math.SQRT1_2;
  expect(column).toEqual({
    name: "turn of the screw",
    periodMm: 5,
    cos: [1, 0, -1, 0, half].map((value) => expect.closeTo(value, 12)),
    sin: [0, 1, 0, -1, half].map((value) => expect.closeTo(value, 12)),
    aliased: expect.any(String),
  });
});

it("takes a target more than it has unknowns: five for one wave, seven for two", () => {
  const places = [0, 1.3, 12.4, 23.9, 31.1, 44.2, 57.8, 63.3, 78.1, 86.4];
  expect(aliased(places.slice(0, 4), 5)).toEqual([like]);
  expect(aliased(places.slice(0, 5), 5)).toEqual([""]);
  expect(aliased(places.slice(0, 6), 5, 3.3)[1]).toMatch(/^turn \(3\.3 mm\): at these targets it looks like/);
  expect(aliased(places.slice(0, 7), 5, 3.3)).toEqual(["", ""]);
});

it("calls targets whole turns apart so, to less than 0.08 of a turn", () => {
  const at = (off: number) => [0, 40, 80 + off, 120 + off, 160 + off, 200 + off, 240 + off];
  expect(aliased(at(0), 5)).toEqual([whole]);
  expect(aliased(at(0.39), 5)).toEqual([whole]);
  expect(aliased(at(-0.39), 5)).toEqual([whole]);
  expect(aliased(at(0.41), 5)).toEqual([like]);
});

it("does not tell a wave of the length of the travel from a slope, nor one from itself", () => {
  const places = [0, 41.3, 83.9, 121.7, 160.2, 202.6, 241.1, 283.7];
  // a user saw "the targets stand whole periods apart" where the turn was longer than the whole travel
  for (const turn of [700, 5000]) expect(aliased(places, turn)).toEqual([like.replace("5 mm", `${turn} mm`)]);
  const [first, again] = aliased(places, 5, 5);
  expect(first).toBe("");
  expect(again).toBe(like);
});

it("names every turn with its waves, in the order screw, motor, mesh", () => {
  const given = { mesh: mm(1.2), motorTurn: mm(3), lead: mm(6) };
  expect(periodsOf({ ...given, harmonics: { lead: 3, mesh: 2 } }, "plan")).toEqual([
    { name: "turn of the screw", periodMm: 6 },
    { name: "turn of the screw, 2 waves in one", periodMm: 3 },
    { name: "turn of the screw, 3 waves in one", periodMm: 2 },
    { name: "turn of the motor", periodMm: 3 },
    { name: "tooth mesh", periodMm: 1.2 },
    { name: "tooth mesh, 2 waves in one", periodMm: 0.6 },
  ]);
  expect(periodsOf({ ...given, harmonics: 2 }, "plan")).toHaveLength(6);
  expect(periodsOf(given, "plan").map(({ periodMm }) => periodMm)).toEqual([6, 3, 1.2]);
  expect(periodsOf({ harmonics: 6 }, "plan")).toEqual([]);
});

it("takes one to six waves of a turn, and each turn as a length above zero", () => {
  expect(periodsOf({ lead: mm(6), harmonics: 6 }, "plan")).toHaveLength(6);
  for (const harmonics of [0, 7, -1]) {
    expect(refusal(() => periodsOf({ motorTurn: mm(6), harmonics }, "plan"))).toEqual({
      code: "harmonics",
      message: `plan: turn of the motor: ${harmonics} harmonics; give a whole number from 1 to 6, each takes two targets`,
    });
  }
  for (const [mesh, said] of [
    [5, "5"],
    [mm(-1), "−1 mm"],
    [{ kind: "length", si: 1 }, "[object Object]"],
    [mm(3).over(mm(1)), "3"],
  ] as const) {
    expect(refusal(() => periodsOf({ mesh: mesh as never }, "plan")).message).toBe(
      `plan: tooth mesh is ${said}; give the travel of one, such as mm(5)`,
    );
  }
});
