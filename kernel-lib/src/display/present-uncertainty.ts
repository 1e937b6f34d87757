import { bars, type Figure } from "../figure/index.js";
import type { Kind } from "../quantity/kinds.js";
import { printNumber, printTwoDigits } from "../quantity/print.js";
import { Quantity } from "../quantity/quantity.js";
import type { Budget } from "../uncertainty/budget.js";
import type { BudgetRow } from "../uncertainty/budget-rows.js";
import { type Improvement, improvements } from "../uncertainty/improvements.js";
import type { FirstOrder } from "../uncertainty/monte-carlo.js";
import { report } from "../uncertainty/report.js";
import { unitSystem } from "./preference.js";
import { type Part, stackPresenter } from "./present.js";
import { type Table, table } from "./table.js";

/** The sentence that can be quoted, then the table it comes from, the shares, and what to improve first. */
export const presentBudget = stackPresenter<Budget<Kind>>(
  (budget) => [budget.sentence(unitSystem()), ...budgetParts(budget)],
  ({ measurand }) => [measurand],
);

/** All of a budget but its sentence. */
export function budgetParts(budget: FirstOrder<Kind>): readonly Part[] {
  return [
    budgetTable(budget),
    budget.terms.length > 1 ? sharesFigure(budget) : undefined,
    budget.terms.length > 1 ? improvementText(budget) : undefined,
  ];
}

/** "halving the contribution of … would cut U from … to …", for the one or two inputs that help most */
function improvementText(budget: FirstOrder<Kind>): string | undefined {
  const [first, second] = improvements(budget);
  if (first === undefined) return undefined;
  const print = (U: Quantity<Kind>) => report(budget.kind, budget.value.si, U.si, unitSystem()).uncertainty;
  const gain = ({ from, to }: Improvement<Kind>) => 1 - to.si / from.si;
  const next =
    second !== undefined && gain(second) > 0.05
      ? `; that of "${second.label}", to ${print(second.to)}`
      : "; no other single input helps by 5 %";
  return `What to improve first: halving the contribution of "${first.label}" would cut U from ${print(first.from)} to ${print(first.to)}${next}.`;
}

function budgetTable(budget: FirstOrder<Kind>): Table {
  const { shown, folded } = foldSmall(budget.rows(unitSystem()));
  return table({
    caption: `Error budget: ${budget.measurand}`,
    columns: [
      { heading: "input", asWritten: true },
      { heading: "value" },
      { heading: "u" },
      { heading: "distribution" },
      { heading: "sensitivity" },
      { heading: "contribution" },
      { heading: "share", unit: "%", align: "right" },
      { heading: "ν", align: "right" },
      { heading: "source", asWritten: true },
    ],
    rows: [...shown.map(cells), ...(folded.length > 0 ? [foldedCells(budget, folded)] : [])],
    foot: [
      [
        "all together",
        valueText(budget),
        twoDigits(budget.standardUncertainty),
        "",
        "",
        "",
        "100",
        effective(budget),
        "",
      ],
    ],
    notes: [
      "contribution = |sensitivity| × u; share = part of the variance; ν = degrees of freedom (JCGM 100)",
      "type A: from the scatter of readings; type B: from anything else",
    ],
  });
}

function sharesFigure(budget: FirstOrder<Kind>): Figure {
  return bars({
    title: `What the uncertainty is made of: ${budget.measurand}`,
    axis: "share of the variance/%",
    rows: foldSmall(budget.rows(unitSystem())).shown.map(({ label, share }) => ({
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

/** Rows too small to show in a share of one decimal go into one; `budget.rows()` has them all. */
function foldSmall(rows: readonly BudgetRow[]): { shown: readonly BudgetRow[]; folded: readonly BudgetRow[] } {
  const small = rows.filter(({ share }) => share < 0.0005);
  return small.length > 1
    ? { shown: rows.filter(({ share }) => share >= 0.0005), folded: small }
    : { shown: rows, folded: [] };
}

function foldedCells(budget: FirstOrder<Kind>, folded: readonly BudgetRow[]): readonly string[] {
  const share = folded.reduce((sum, row) => sum + row.share, 0);
  const part = Quantity.fromSi(budget.standardUncertainty.kind, Math.sqrt(share) * budget.standardUncertainty.si);
  return [
    `${folded.length} smaller inputs`,
    "–",
    "–",
    "–",
    "–",
    twoDigits(part),
    share < 0.0005 ? "< 0.1" : (100 * share).toFixed(1),
    "–",
    "–",
  ];
}

/** the value as the budget reports it */
function valueText(budget: FirstOrder<Kind>): string {
  return budget.text(unitSystem()).split(" ± ")[0]!.split(" (")[0]!;
}

function twoDigits(value: Quantity<Kind>): string {
  return printTwoDigits(value, unitSystem());
}

function effective(budget: FirstOrder<Kind>): string {
  const nu = budget.effectiveDegreesOfFreedom;
  return nu > 1000 ? "> 1000" : degreesText(Math.trunc(nu));
}

function degreesText(nu: number): string {
  return Number.isFinite(nu) ? printNumber(nu, 3) : "∞";
}
