import { oneLine } from "../survey/plan-sheet.js";
import { exactText, gaugeLines } from "../survey/preamble-gauge.js";
import type { PositioningPlan } from "./positioning-plan.js";

/** The open sheet of a plan: what is known stands in its preamble, what is to be written is left blank. */
export function positioningPlanSheet(plan: PositioningPlan): string {
  const { reference, reads, usesBlocks } = plan;
  const known = (key: string, text: string | undefined) => [key, text === undefined ? "" : ` ${text}`] as const;
  const { scaleLimit, alignmentLimit, temperature, temperatureDifferenceLimit, expansionDifferenceLimit } = reference;
  const preamble: (readonly [key: string, value: string])[] = [
    known("title", oneLine(plan.title)),
    known("workshop", undefined),
    known("machine", undefined),
    known("date", undefined),
    known("axis", plan.axis),
    ...gaugeLines(plan.gauge).map(([key, value]) => known(key, oneLine(value))),
    known("sense proven", undefined),
    known("reference", oneLine(reference.name)),
    known("reference scale limit", scaleLimit && exactText("slope", scaleLimit.si)),
    known("reference alignment limit", alignmentLimit && exactText("slope", alignmentLimit.si)),
    known("reference temperature", temperature && exactText("temperature", temperature.si)),
    known(
      "temperature difference limit",
      temperatureDifferenceLimit && exactText("temperature difference", temperatureDifferenceLimit.si),
    ),
    known(
      "expansion difference limit",
      expansionDifferenceLimit && exactText("expansion coefficient", expansionDifferenceLimit.si),
    ),
  ];
  const value = reads === "deviation" ? "deviation/um" : "position/mm";
  const heading = ["target/mm", "direction", "run", value, ...(usesBlocks ? ["reference/um"] : []), "order"];
  const rows = plan.readings.map(({ order, run, direction, target }) => {
    const { target: at, blocks } = plan.targets[target]!;
    const stack = blocks.map((block) => block.in("mm")).join(" + ");
    return [at.in("mm"), direction, run, "", ...(usesBlocks ? [""] : []), order, "", "", stack].join(",");
  });
  return [
    ...preamble.map(([key, text]) => `# ${key}:${text}`),
    [...heading, "time", "temperature/degC", "note"].join(","),
    ...rows,
    "",
  ].join("\n");
}
