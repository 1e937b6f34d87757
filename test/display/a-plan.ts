import { gauge, mm, survey, um } from "../../kernel-lib/src/index.js";
import type { PlanOptions, SurveyPlan } from "../../kernel-lib/src/survey/index.js";

/** A plan with everything on it: slots, a hole, a vice, a travel shorter than the table. */
export function aPlan(more: Partial<PlanOptions> = {}): SurveyPlan {
  return survey.plan({
    title: "table of the small mill",
    table: { x: [mm(0), mm(480)], y: [mm(0), mm(170)] },
    travel: { x: [mm(0), mm(400)], y: [mm(5), mm(165)] },
    slots: [
      { along: "x", at: mm(45), width: mm(12) },
      { along: "x", at: mm(125), width: mm(12) },
    ],
    holes: [{ x: mm(205), y: mm(85), diameter: mm(16) }],
    obstacles: [{ name: "vice", x: [mm(300), mm(360)], y: [mm(60), mm(110)] }],
    pitch: mm(36),
    frame: { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" },
    gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }),
    ...more,
  });
}
