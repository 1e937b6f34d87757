import { describe, expect, it } from "vitest";
import { slopeUnder } from "../../kernel-lib/src/form/index.js";
import { mm, um } from "../../kernel-lib/src/quantity/index.js";
import { gauge, type Surface } from "../../kernel-lib/src/survey/index.js";
import { refusal } from "../refusal.js";

const dial = gauge({ name: "dial", resolution: um(0.1), maximumPermissibleError: um(1) });
// a table that is bent: its slope under the sweep is not that of the whole
const map = (relativeTo: Surface["frame"]["relativeTo"] = "travel"): Surface => ({
  name: "table",
  frame: { relativeTo, front: "y-", plusX: "right", plusY: "back" },
  gauge: dial,
  places: Array.from({ length: 44 }, (_, k) => {
    const [xMm, yMm] = [50 * (k % 11), 50 * Math.floor(k / 11)];
    return { label: `P${k}`, xMm, yMm, zUm: 20 * ((xMm - 250) / 250) ** 2 + 0.03 * yMm, count: 2 };
  }),
  noise: { standardUncertaintyUm: 0.2, degreesOfFreedom: 40 },
});
const sweep = { name: "head", radius: mm(80), centre: { x: mm(400), y: mm(75) } };

describe("the slope of the table under a sweep", () => {
  it("is that of the places inside the circle", () => {
    const { x, y } = slopeUnder(map(), sweep);
    // derivative of 20 ((x − 250)/250)² at 400 mm, by hand: 96 µm/m
    expect(x.in("um/m")).toBeCloseTo(96, 6);
    expect(y.in("um/m")).toBeCloseTo(30, 6);
    expect(x.standardUncertainty.in("um/m")).toBeGreaterThan(0);
  });

  it("is refused without a place, for a map against gravity, and where too little was probed", () => {
    const { centre, ...nowhere } = sweep;
    expect(refusal(() => slopeUnder(map(), nowhere))).toEqual({
      code: "centre",
      message:
        'slopeUnder: the sweep of head does not say where over the table it was taken; write "# centre: 260, 120" on its sheet, x and y in mm',
    });
    expect(refusal(() => slopeUnder(map("gravity"), sweep))).toEqual({
      code: "relative-to",
      message:
        "slopeUnder: table is relative to gravity; give a map against travel, as an indicator in the spindle reads it",
    });
    expect(refusal(() => slopeUnder(map(), { ...sweep, centre: { x: centre.x, y: mm(-70) } }))).toEqual({
      code: "too-few-places",
      message:
        "slopeUnder: 1 place of table under the sweep of head; four are needed at least, off one line: take the tilt of the whole map, or probe more places there",
    });
  });
});
