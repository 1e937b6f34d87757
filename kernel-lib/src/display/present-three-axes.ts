import type { ThreeAxes } from "../axis/index.js";
import { stackPresenter } from "./present.js";
import { axisCaution } from "./present-axis.js";
import { table } from "./table.js";

/** What each axis does at the tool, all together by direction, and what is not measured. */
export const presentThreeAxes = stackPresenter<ThreeAxes>((whole) => [
  axisCaution,
  whole.toString(),
  table({
    caption: "What each axis does at the tool",
    columns: [
      { heading: "what", align: "left" },
      { heading: "moves the tool in", align: "left" },
      { heading: "by", align: "left" },
      { heading: "when", align: "left" },
    ],
    rows: whole.contributions.map(({ source, direction, error, shows }) => [
      source,
      direction,
      error.text("um"),
      shows,
    ]),
    foot: (["X", "Y", "Z"] as const).map((direction) => [
      "all the same way",
      direction,
      whole.together(direction)?.text("um") ?? "nothing measured",
      "at worst, of what is measured",
    ]),
    notes: whole.missing.map((line) => `not measured: ${line}`),
  }),
]);
