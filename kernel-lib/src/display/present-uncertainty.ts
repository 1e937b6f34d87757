import type { SmallestChange } from "../conformity/smallest-change.js";
import type { Verdict } from "../conformity/verdict.js";
import { bars, type Figure } from "../figure/index.js";
import type { Kind } from "../quantity/kinds.js";
import { printNumber } from "../quantity/print.js";
import type { Budget } from "../uncertainty/budget.js";
import type { BudgetRow } from "../uncertainty/budget-rows.js";
import type { Input } from "../uncertainty/input.js";
import type { Measured } from "../uncertainty/measured.js";
import { sentencePresenter, stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

export const presentMeasured = sentencePresenter<Measured<Kind>>();
export const presentInput = sentencePresenter<Input<Kind>>();
export const presentVerdict = sentencePresenter<Verdict<Kind>>();
export const presentSmallestChange = sentencePresenter<SmallestChange<Kind>>();

/** The sentence that can be quoted, then the table it comes from. */
export const presentBudget = stackPresenter<Budget<Kind>>((budget) => [
  budget.sentence(),
  budgetTable(budget),
  budget.terms.length > 1 ? sharesFigure(budget) : undefined,
]);

function budgetTable(budget: Budget<Kind>): Table {
  const rows = budget.rows();
  return table({
    caption: `Error budget: ${budget.measurand}`,
    columns: [
      { heading: "input" },
      { heading: "value" },
      { heading: "u" },
      { heading: "distribution" },
      { heading: "sensitivity" },
      { heading: "contribution" },
      { heading: "share", unit: "%", align: "right" },
      { heading: "ν", align: "right" },
      { heading: "source" },
    ],
    rows: rows.map(cells),
    foot: [["all together", budget.value.text(), combined(budget), "", "", "", "100", effective(budget), ""]],
    notes: [
      "contribution = |sensitivity| × u; share = part of the variance; ν = degrees of freedom (JCGM 100)",
      "type A: from the scatter of readings; type B: from anything else",
    ],
  });
}

function sharesFigure(budget: Budget<Kind>): Figure {
  return bars({
    title: `What the uncertainty is made of: ${budget.measurand}`,
    axis: "share of the variance/%",
    rows: budget.rows().map(({ label, share }) => ({
      label,
      value: 100 * share,
      text: `${(100 * share).toFixed(share < 0.0995 ? 1 : 0)} %`,
    })),
  });
}

function cells(row: BudgetRow): readonly string[] {
  return [
    row.label,
    row.value,
    row.standardUncertainty,
    `${row.distribution}, type ${row.evaluation}`,
    row.sensitivity || "1",
    row.contribution,
    (100 * row.share).toFixed(row.share < 0.0995 ? 1 : 0),
    degreesText(row.degreesOfFreedom),
    row.source,
  ];
}

function combined(budget: Budget<Kind>): string {
  const u = budget.standardUncertainty;
  return u.text().replace(/^[−\d.]+/, printNumber(Number.parseFloat(u.text().replace("−", "-")), 2));
}

function effective(budget: Budget<Kind>): string {
  return degreesText(Math.trunc(budget.effectiveDegreesOfFreedom));
}

function degreesText(nu: number): string {
  return Number.isFinite(nu) ? printNumber(nu, 3) : "∞";
}
