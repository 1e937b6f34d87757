import type { Acceptance, GlobalRisk, SmallestChange, SpecificRisk, Verdict } from "../conformity/index.js";
import type { Kind } from "../quantity/kinds.js";
import { printDecimals, printTwoDigits } from "../quantity/print.js";
import type { Quantity } from "../quantity/quantity.js";
import { withCaveats } from "../uncertainty/caveat.js";
import type { Budgets, CorrelatedGroup, Input, Measured, PooledSpread } from "../uncertainty/index.js";
import { shown, unitSystem } from "./preference.js";
import { sentencePresenter, stackPresenter } from "./present.js";
import { table } from "./table.js";

const sentence = (value: { sentence(system: ReturnType<typeof unitSystem>): string }) => value.sentence(unitSystem());

export const presentMeasured = sentencePresenter<Measured<Kind>>((value) => withCaveats(shown(value), value.caveats));
export const presentInput = sentencePresenter<Input<Kind>>((input) => input.text(unitSystem()));
export const presentVerdict = sentencePresenter<Verdict<Kind>>(sentence);
export const presentAcceptance = sentencePresenter<Acceptance<Kind>>(sentence);
export const presentSpecificRisk = sentencePresenter<SpecificRisk<Kind>>(sentence);
export const presentGlobalRisk = sentencePresenter<GlobalRisk<Kind>>(sentence);
export const presentSmallestChange = sentencePresenter<SmallestChange<Kind>>(sentence);
export const presentPooledSpread = sentencePresenter<PooledSpread<Kind>>((spread) => spread.text(unitSystem()));
export const presentCorrelatedGroup = sentencePresenter<CorrelatedGroup>();

/** Each output with its sentence, and how they hang together. */
export const presentBudgets = stackPresenter<Budgets<{ readonly [name: string]: Quantity<Kind> }>>((budgets) => [
  table({
    caption: "Several results of one model",
    columns: [{ heading: "result", align: "left" }, { heading: "value ± U" }, { heading: "u" }],
    rows: budgets.names.map((name) => {
      const budget = budgets.of[name]!;
      return [budget.measurand, shown(budget), printTwoDigits(budget.standardUncertainty, unitSystem())];
    }),
    notes: ["U at 95 %, k from Student's t with the effective degrees of freedom (JCGM 100)", ...budgets.caveats],
  }),
  table({
    caption: "Correlation coefficients",
    columns: [
      { heading: "", align: "left" },
      ...budgets.names.map((name) => ({ heading: name, align: "right" as const })),
    ],
    rows: budgets.names.map((a) => [a, ...budgets.names.map((b) => coefficient(budgets.correlation(a, b)))]),
  }),
]);

function coefficient(r: number): string {
  return Number.isNaN(r) ? "–" : printDecimals(r, 3);
}
