import type { PreambleLines } from "../survey/preamble-lines.js";
import { refuseSheet } from "../survey/sheet-error.js";
import type { AxisName } from "./positioning-test.js";

/** The line `# axis: X`. @throws MeasurementError `axis` */
export function axisOf(lines: PreambleLines): AxisName {
  const said = lines.take("axis");
  const found = (["X", "Y", "Z"] as const).find((axis) => axis === said?.value.toUpperCase());
  if (found) return found;
  const spot = { name: lines.name, ...(said ? { line: said.line } : {}) };
  const given = said ? `"# axis: ${said.value}" is not understood` : "the axis is not said";
  return refuseSheet("axis", spot, `${given}; write "# axis: X"`);
}
