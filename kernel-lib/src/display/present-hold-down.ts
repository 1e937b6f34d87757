import type { HoldDown } from "../facing/hold-down.js";
import type { TorqueLimit } from "../facing/hold-down-limits.js";
import type { Plate } from "../facing/plate.js";
import type { Preload } from "../facing/preload.js";
import { holdDownPlan } from "../figure/index.js";
import { caution } from "./caution.js";
import { figureBundle } from "./figure-bundle.js";
import { sentencePresenter, stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

export const presentPlate = sentencePresenter<Plate>();

/** What the torque gives, and where the scatter comes from. */
export const presentPreload = stackPresenter<Preload>((preload) => [preload.toString(), preload.force]);

/** Cautions first; the torque in one line, the screws in their order, what bounds the torque. */
export const presentHoldDown = stackPresenter<HoldDown>(
  (down) => [
    caution("before the plate is cut", down.cautions),
    down.toString(),
    figureBundle(holdDownPlan(down)),
    limitsTable(down),
  ],
  ({ plate }) => [plate.name],
);

function limitsTable(down: HoldDown): Table {
  const row = (bound: string) => (limit: TorqueLimit) => [
    limit.what,
    bound,
    limit.torque.in("N.m").toFixed(1),
    limit.force.in("kN").toFixed(1),
    limit.source,
  ];
  return table({
    caption: `What bounds the torque of ${down.plate.screws.length} screws ${down.plate.thread}`,
    columns: [
      { heading: "what", align: "left" },
      { heading: "torque", align: "left" },
      { heading: "", unit: "N·m", align: "right" },
      { heading: "preload of a screw", unit: "kN", align: "right" },
      { heading: "from", align: "left" },
    ],
    rows: [...down.upper.map(row("at most")), ...down.lower.map(row("at least"))],
    notes: [
      `thread in the nut ${down.engaged.text("mm")}, tip ${down.tipClear.text("mm")} above the floor of the slot; pressure under the head up to ${down.pressure.in("MPa").toFixed(0)} N/mm²`,
      down.preload.toString(),
      ...down.notes,
    ],
  });
}
