import { mm } from "../../quantity/index.js";
import { type Common, lineText, type SheetLine } from "./common.js";

/** The sheet of a positioning plan with the reader's own lines above it; targets and readings in inches where they are used. */
export function positioningInUnits(csv: string, opening: readonly SheetLine[], { units, zUnit }: Common): string {
  const own = new Set(opening.map(([key]) => key));
  const lines = csv.split("\n");
  const planned = lines.flatMap((line) => {
    const key = /^# ([^:]+):/.exec(line)?.[1];
    return key === undefined || own.has(key) ? [] : [line];
  });
  const rows = lines.filter((line) => !line.startsWith("#"));
  const [heading = "", ...readings] = rows;
  const inUnits = units === "inch" ? readings.map(targetInInches) : readings;
  const headed = heading.replace("deviation/um", `deviation/${zUnit}`);
  return [
    ...opening.map(lineText),
    ...planned,
    units === "inch"
      ? headed.replace("target/mm", "target/in").replace("temperature/degC", "temperature/degF")
      : headed,
    ...inUnits,
  ].join("\n");
}

function targetInInches(row: string): string {
  return row.replace(/^[\d.]+/, (target) => String(Number(mm(Number(target)).in("in").toFixed(3))));
}
