import type { Decision } from "../decision/decision.js";
import type { ExpectedCost } from "../decision/expected-cost.js";
import { chanceText } from "../decision/prediction.js";
import { sumText } from "../decision/stakes.js";
import { bars, Figure } from "../figure/index.js";
import { scaleNumber } from "../figure/print-units.js";
import { restated } from "../figure/restated.js";
import type { Length } from "../quantity/quantity.js";
import { caution } from "./caution.js";
import { stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

/** Cautions first; the answer, the options side by side, what each assumes and risks, what would change the answer. */
export const presentDecision = stackPresenter<Decision>(
  (decision) => [
    caution("whichever option is taken", decision.cautions),
    decision.toString(),
    optionsFigure(decision),
    optionsTable(decision),
    conditionsTable(decision),
    decision.expectedCost ? costTable(decision.expectedCost) : undefined,
    table({
      caption: "What would change this answer",
      columns: [{ heading: "if", align: "left" }],
      rows: decision.whatWouldChangeIt.map((line) => [line]),
    }),
  ],
  ({ options, tolerance }) => [...options.map(({ name }) => name), tolerance.source ?? ""],
);

function optionsFigure(decision: Decision): Figure {
  const judged = decision.options.flatMap(({ name, prediction }) => (prediction ? [{ name, prediction }] : []));
  return Figure.drawn(({ system, height }) => {
    const number = (value: Length) => scaleNumber(height, value.in("um"), 1);
    return bars({
      title: "Flatness after each option",
      subtitle:
        "bar: the middle of what was simulated; whisker: its 95 % interval; options that can't be judged are left out",
      axis: `flatness/${height.symbol}`,
      limit: {
        at: height.of(decision.tolerance.upper.in("um")),
        text: `tolerance ${restated(decision.tolerance.upper.text(), system)}`,
      },
      rows: judged.map(({ name, prediction: { estimate, low, high } }) => ({
        label: name,
        value: height.of(estimate.in("um")),
        low: height.of(low.in("um")),
        high: height.of(high.in("um")),
        text: `${number(estimate)} ${height.symbol} (${number(low)} to ${number(high)})`,
      })),
    });
  });
}

function optionsTable(decision: Decision): Table {
  return table({
    caption: `Options against ${decision.tolerance.upper.text()} (${decision.tolerance.source})`,
    columns: [
      { heading: "option", align: "left" },
      { heading: "flatness after" },
      { heading: "95 % interval" },
      { heading: "chance to meet it" },
      { heading: "chance to prove it" },
      { heading: "verdict", align: "left" },
      { heading: "hours" },
      { heading: "outlay" },
      { heading: "can be undone", align: "left" },
    ],
    rows: decision.rows.map((row) => [
      row.option,
      row.flatness,
      row.interval,
      row.chance,
      row.provable,
      row.verdict,
      row.hours,
      row.outlay,
      row.canBeUndone,
    ]),
    notes: [decision.frame, decision.rule],
  });
}

function conditionsTable(decision: Decision): Table {
  return table({
    caption: "What each option assumes, leaves on a part and risks",
    columns: [
      { heading: "option", align: "left" },
      { heading: "assumes", align: "left" },
      { heading: "error left on a part", align: "left" },
      { heading: "a straightedge would say", align: "left" },
      { heading: "risks", align: "left" },
    ],
    rows: decision.rows.map((row) => [row.option, row.assumes, row.errorOnPart, row.byStraightedge, row.risks]),
  });
}

/** The sentence, and what each option costs on the average. */
export const presentExpectedCost = stackPresenter<ExpectedCost>(
  (found) => [found.toString(), costTable(found)],
  ({ rows }) => rows.map(({ option }) => option.name),
);

function costTable({ rows, unit, leftOut }: ExpectedCost): Table {
  return table({
    caption: `What each option costs on the average, in ${unit}`,
    columns: [
      { heading: "option", align: "left" },
      { heading: "doing it" },
      { heading: "chance to miss the tolerance" },
      { heading: "on the average" },
      { heading: "outlay", align: "left" },
    ],
    rows: rows.map(({ option, doing, chanceToMiss, expected: { mean, standardError } }) => [
      option.name,
      sumText(doing, unit),
      chanceText(chanceToMiss),
      `${sumText(mean, unit)} ± ${sumText(1.96 * standardError, unit)}`,
      option.effort.outlay ? "given" : "not given: in no sum",
    ]),
    notes: [
      "doing it: hours at the value given, and the outlay; on the average: with the cost of a miss times its chance; ± 1.96 standard errors of the simulation",
      ...leftOut.map((line) => `in no sum: ${line}`),
    ],
  });
}
