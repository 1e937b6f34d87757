import { expect, it } from "vitest";
import { area, reach } from "../../kernel-lib/src/facing/reach.js";
import { mm } from "../../kernel-lib/src/quantity/index.js";
import { refusal } from "../refusal.js";
import { aMap } from "./a-map.js";

const map = aMap(() => 0);
const travel = area(mm(0), mm(520), mm(5), mm(235));
const usual = { travel, cutterRadius: mm(25), runOut: mm(3), feedAlong: "x" as const };

it("draws three outlines: probed, travel, and the rim a radius further", () => {
  const got = reach(map, { ...usual, area: area(mm(40), mm(480), mm(30), mm(210)) });
  expect(got.probed.xTo.in("mm")).toBe(500);
  expect(got.cutter.xTo.in("mm")).toBe(545);
  expect(got.cutter.yFrom.in("mm")).toBe(-20);
  expect([got.areaIsProbed, got.areaIsCovered, got.passesRunClear, got.notes]).toEqual([true, true, true, []]);
});

it("calls nothing clean outside the places probed, though the rim comes there", () => {
  const got = reach(map, { ...usual, area: area(mm(10), mm(480), mm(30), mm(210)) });
  expect([got.areaIsProbed, got.areaIsCovered]).toEqual([false, true]);
  expect(got.notes[0]).toBe(
    "part of the area lies outside the outermost places probed (x 20 mm to 500 mm, y 20 mm to 220 mm): nothing there is called clean or covered",
  );
});

it("says where a pass can't run clear of the area", () => {
  const got = reach(map, { ...usual, area: area(mm(20), mm(500), mm(30), mm(210)) });
  expect([got.areaIsCovered, got.passesRunClear]).toEqual([true, false]);
  expect(got.notes).toHaveLength(1);
});

it("refuses an area turned inside out", () => {
  const act = () => reach(map, { ...usual, area: area(mm(480), mm(40), mm(30), mm(210)) });
  expect(refusal(act)).toEqual({
    code: "area",
    message:
      "reach: area runs x 480 mm to 40 mm, y 30 mm to 210 mm, which has no size; give xFrom below xTo and yFrom below yTo",
  });
});
