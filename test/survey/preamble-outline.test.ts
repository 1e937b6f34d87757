import { describe, expect, it } from "vitest";
import { mm, um } from "../../kernel-lib/src/quantity/index.js";
import { gauge } from "../../kernel-lib/src/survey/gauge.js";
import { plan } from "../../kernel-lib/src/survey/plan.js";
import { readOutlineLines } from "../../kernel-lib/src/survey/preamble-outline.js";
import { SheetText } from "../../kernel-lib/src/survey/sheet-text.js";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";

const planned = plan({
  table: { x: [mm(0), mm(400)], y: [mm(0), mm(150)] },
  slots: [{ along: "x", at: mm(75), width: mm(14) }],
  holes: [{ x: mm(30), y: mm(40.5), diameter: mm(12) }],
  obstacles: [{ name: "vice, left on", x: [mm(300), mm(380)], y: [mm(20), mm(60)] }],
  pitch: mm(50),
  frame: { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" },
  gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }),
});

describe("the lines of a sheet that say what the table looks like", () => {
  it("give the outline of the plan again", () => {
    const { unread, ...said } = readOutlineLines(SheetText.of(planned.toCsv(), "plan.csv").head);
    const { name, ...where } = planned.outline.obstacles[0]!;
    expect(said).toEqual({ ...planned.outline, obstacles: [{ name: "vice left on", ...where }] });
    expect(unread).toEqual([]);
  });

  it("do not get into the way of the survey", () => {
    const blank = planned.toCsv().replaceAll(/^([A-Z]+\d+|datum \d)(,[^,]+,[^,]+,)/gm, "$1$20");
    const survey = parseSurvey(blank);
    expect(survey.otherLines.filter(([key]) => key.startsWith("slot"))).toEqual([
      ["slot 1", "along x, y 68 mm to 82 mm"],
    ]);
    expect(survey.readings().length).toBe(2 * planned.places.length);
  });
});
