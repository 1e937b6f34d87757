import type { PositioningPlan } from "../axis/index.js";
import { printDecimals, printNumber } from "../quantity/print.js";
import { durationText } from "../survey/plan.js";
import { stackPresenter } from "./present.js";
import { axisCaution } from "./present-axis.js";
import { type Table, table } from "./table.js";

/** The plan in one line, its targets, what it can be expected to tell. */
export const presentPositioningPlan = stackPresenter<PositioningPlan>(
  (plan) => [axisCaution, plan.toString(), targetTable(plan), expectedTable(plan)],
  ({ title, reference, gauge }) => [title, reference.name, gauge.name],
);

function targetTable(plan: PositioningPlan): Table {
  return table({
    caption: `${plan.title}: targets`,
    columns: [
      { heading: "", align: "right" },
      { heading: "target", unit: "mm", align: "right" },
      ...(plan.usesBlocks ? [{ heading: "blocks from the stop", unit: "mm", align: "left" as const }] : []),
    ],
    rows: plan.targets.map(({ target, blocks }, i) => [
      i + 1,
      target.in("mm"),
      ...(plan.usesBlocks ? [blocks.length === 0 ? "none, the stop" : blockWords(blocks)] : []),
    ]),
    notes: plan.notes,
  });
}

/** "100 + 1.3" */
export function blockWords(blocks: PositioningPlan["targets"][number]["blocks"]): string {
  return blocks.map((block) => printNumber(block.in("mm"))).join(" + ");
}

function expectedTable({ title, expected, gaugeAlone, time, dwell, offset, cycles, readings }: PositioningPlan): Table {
  const micrometres = (value: number) => `${printNumber(value, 2)} µm`;
  const { scatter } = expected;
  return table({
    caption: `${title}: what it can be expected to tell`,
    columns: [
      { heading: "what", align: "left" },
      { heading: "expected", align: "left" },
    ],
    rows: [
      ["readings", `${readings.length}, ${cycles} runs each way`],
      ["time", `about ${durationText(time)}, of it ${printNumber(dwell.in("s"))} s stillness before each reading`],
      ["random offsets", `up to ${printDecimals(offset.in("mm"), 1)} mm about even places`],
      [
        "scatter of one reading",
        `${micrometres(scatter.standardDeviation.in("um"))}: the gauge, ${scatter.source}; the axis adds its own`,
      ],
      ["U of the lost motion (k = 2)", `${micrometres(expected.lostMotion.in("um"))}; a play below it cannot be told`],
      ["U of the pitch over the span (k = 2)", micrometres(expected.overSpan.in("um"))],
      [
        "a perfect axis would be given",
        `A ${micrometres(gaugeAlone.accuracy.in("um"))}, R ${micrometres(gaugeAlone.repeatability.in("um"))} (simulated)`,
      ],
    ],
    notes: ["drift over the test is in none of these: warm the axis up as it will be used, and be quick"],
  });
}
