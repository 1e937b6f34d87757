import type { SurveyPlan } from "./plan.js";
import { gaugeLines } from "./preamble-gauge.js";
import { outlineLines } from "./preamble-outline.js";
import { protocolKeys } from "./sheet.js";

/** The open sheet of a plan: what is known stands in its preamble, what is to be written is left blank. */
export function planSheet(plan: SurveyPlan): string {
  const { frame, outline, title } = plan;
  const span = (axis: "x" | "y") => {
    const found = outline.travel[axis];
    return found ? ` ${found.fromMm} mm to ${found.toMm} mm` : "";
  };
  const preamble: (readonly [key: string, value: string])[] = [
    ["title", ` ${oneLine(title)}`],
    ["workshop", ""],
    ["machine", ""],
    ["date", ""],
    ["relative to", ` ${frame.relativeTo}`],
    ["front", ` ${frame.front}`],
    ["+x", ` ${frame.plusX}`],
    ["+y", ` ${frame.plusY}`],
    ["zeroed", " once"],
    ...gaugeLines(plan.gauge).map(([key, value]) => [key, ` ${oneLine(value)}`] as const),
    ...protocolKeys.map((key) => [key, ""] as const),
    ["temperature table", ""],
    ["travel x", span("x")],
    ["travel y", span("y")],
    ...outlineLines(outline).map(([key, value]) => [key, ` ${value}`] as const),
  ];
  const rows = plan.readings.map(({ label, xMm, yMm, pass, order }) =>
    [label, xMm, yMm, "", pass, order, "", "", ""].join(","),
  );
  return [
    ...preamble.map(([key, value]) => `# ${key}:${value}`),
    `place,x/mm,y/mm,z/${plan.zUnit},pass,order,time,temperature/degC,note`,
    ...rows,
    "",
  ].join("\n");
}

/** a title must not open a line of its own, nor end in what the reader of the sheet takes off */
export function oneLine(text: string): string {
  return text
    .replace(/\s+/g, " ")
    .replace(/[,;\s]+$/, "")
    .trim();
}
