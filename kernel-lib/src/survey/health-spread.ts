import { driftRates } from "./drift-correction.js";
import type { Checked, Finding } from "./finding.js";
import { chanceText } from "./health-readings.js";
import { meanUncertainty } from "./repeatability.js";

/** Drift from the datum returns, with the misclosure. */
export function checkDrift({ drift, raw }: Checked): readonly Finding[] {
  const { fit } = drift;
  if (!fit) {
    const few = raw.labels.length < 5;
    return few
      ? []
      : [
          {
            check: "drift",
            severity: "note",
            what: drift.drift.statement,
            places: [],
            howSure: "certain",
            whatToDo: "next time read two or three datum places three times each at the start, between and at the end",
          },
        ];
  }
  const closing = fit.misclosure ? `; ${fit.misclosure.label} comes back ${signed(fit.misclosure.size)} µm` : "";
  if (drift.drift.model === "none seen") {
    return [
      {
        check: "drift",
        severity: "note",
        what: `${drift.drift.statement}${closing}`,
        places: [],
        howSure: `a drift above ${(3.6 * fit.totalUncertainty).toFixed(1)} µm would have shown 8 times in 10`,
        whatToDo: "nothing",
      },
    ];
  }
  const bent = fit.bendChance < driftRates.bend;
  return [
    {
      check: "drift",
      severity: "check",
      what: `${drift.drift.statement}${closing}`,
      places: [...new Set(fit.visits.map((v) => v.label))],
      howSure: chanceText(bent ? fit.bendChance : fit.lineChance),
      whatToDo:
        "let machine and gauge come to one temperature and read again; until then the heights carry the doubt of the correction",
    },
  ];
}

/** Repeatability, and whether the gauge is fine enough to show it. */
export function checkRepeats({ table, scatter, disagreements }: Checked): readonly Finding[] {
  if (table.z.length === 0) return [];
  if (!scatter) {
    return [
      {
        check: "repeats",
        severity: "check",
        what: "no place was read twice, so the sheet does not show how far its readings repeat",
        places: [],
        howSure: "certain",
        whatToDo: "wipe the table and read it a second time",
      },
    ];
  }
  const { standardDeviation: s, degreesOfFreedom } = scatter;
  const count = table.passes.length;
  const of = meanUncertainty(scatter, count, table.step).standardUncertaintyUm;
  const without =
    disagreements.length > 0 ? `, without ${disagreements.map((d) => table.labels[d.place]).join(", ")}` : "";
  const found: Finding[] = [
    {
      check: "repeats",
      severity: "note",
      what: `one reading repeats within s = ${s.toFixed(2)} µm${without}; the mean of ${count} has a standard uncertainty of ${of.toFixed(2)} µm`,
      places: [],
      howSure: `${degreesOfFreedom} degrees of freedom`,
      whatToDo: "nothing",
    },
  ];
  if (s < table.step / 2) {
    found.push({
      check: "resolution",
      severity: "note",
      what: `repeats scatter by s = ${s.toFixed(2)} µm, less than half a step of ${Number(table.step.toPrecision(4))} µm; so small an s is not believed and more passes do not help`,
      places: [],
      howSure: "certain",
      whatToDo: "take the step of the gauge over √12 for the doubt of a place, or use a finer gauge",
    });
  }
  return found;
}

function signed(value: number): string {
  return `${value < 0 ? "−" : "+"}${Math.abs(value).toFixed(1)}`;
}
