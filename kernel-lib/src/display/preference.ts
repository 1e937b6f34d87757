import { MeasurementError } from "../measurement-error.js";
import type { Kind, UnitSystem } from "../quantity/kinds.js";
import type { Quantity } from "../quantity/quantity.js";
import { Note } from "./note.js";

/** The one piece of state of a notebook: which units its cells are shown in. Values, `toString` and files never ask it. */
let shownIn: UnitSystem = "metric";

/**
 * Shows the cells from here on in inch, °F and pound-force units, or in metric ones again.
 *
 * Figures, tables and sentences alike; names and what a sheet says stay as they were written. Values, text made by
 * `${…}` or `.text()`, stated figures and files stay as they are.
 *
 * @param system `"inch"` or `"metric"`
 * @throws MeasurementError `unit-system`
 * @example
 * `${displayIn("metric")}` // => "shown in metric units from here on"
 */
export function displayIn(system: UnitSystem): Note {
  if (system !== "inch" && system !== "metric") {
    throw new MeasurementError(
      "unit-system",
      `displayIn: "${String(system)}" is no system of units; use "metric" or "inch"`,
    );
  }
  shownIn = system;
  const units = system === "inch" ? "inch, °F and pound-force units" : "metric units";
  return new Note(`shown in ${units} from here on`);
}

/** The units that cells are shown in now. */
export function unitSystem(): UnitSystem {
  return shownIn;
}

/** Text of a quantity, or of anything else that takes a system of units, as cells show it now. */
export function shown(value: Pick<Quantity<Kind>, "text"> | { text(system: UnitSystem): string }): string {
  return value.text(shownIn);
}
