import type { ThreeAxes } from "../axis/index.js";
import { printDecimals } from "../quantity/print.js";
import { stackPresenter } from "./present.js";
import { axisCaution } from "./present-axis.js";
import { table } from "./table.js";

const directions = ["X", "Y", "Z"] as const;

/** What each axis does at the tool, all together by direction at worst and as a root sum of squares, and what is not measured. */
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
    foot: directions.flatMap((direction) => {
      const [worst, likely] = [whole.together(direction), whole.likely(direction)];
      if (worst === undefined || likely === undefined) return [["together", direction, "nothing measured", "–"]];
      return [
        ["all the same way", direction, worst.text("um"), "at worst, of what is measured"],
        ["root sum of squares", direction, likely.text("um"), "if they are greatest in unlike places"],
      ];
    }),
    notes: [...correlationNotes(whole), ...whole.missing.map((line) => `not measured: ${line}`)],
  }),
]);

function correlationNotes(whole: ThreeAxes): readonly string[] {
  const given = whole.options.together ?? [];
  const pair = (between: readonly [string, string]) => between.join(" with ");
  const assumed =
    given.length === 0
      ? "no two of them are taken to grow together"
      : `taken to grow together: ${given.map(({ between, correlation }) => `${pair(between)} (${printDecimals(correlation, 2)})`).join(", ")}; no others`;
  const shared = directions.flatMap((direction) => whole.sharedDoubt(direction));
  return [
    `root sum of squares: ${assumed}`,
    shared.length === 0
      ? "the uncertainties of the lines have nothing in common"
      : `uncertainties with something in common, kept in both sums: ${shared.map(({ between, correlation }) => `${pair(between)} (correlation ${printDecimals(correlation, 2)})`).join(", ")}`,
  ];
}
