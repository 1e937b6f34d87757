import type { Diagnosis } from "../axis/index.js";
import { printNumber } from "../quantity/print.js";
import { stackPresenter } from "./present.js";
import { axisCaution } from "./present-axis.js";
import { table } from "./table.js";

/** Which causes are there, then a row each with its evidence and what to do. */
export const presentDiagnosis = stackPresenter<Diagnosis>(
  (found) => [
    axisCaution,
    found.toString(),
    table({
      caption: `${found.found.test.name}: why it does not go where it is told`,
      columns: [
        { heading: "cause", align: "left" },
        { heading: "verdict", align: "left" },
        { heading: "chance by accident", align: "left" },
        { heading: "evidence", align: "left" },
        { heading: "what to do", align: "left" },
      ],
      rows: found.findings.map(({ cause, verdict, chance, evidence, next }) => [
        cause,
        verdict,
        chance === undefined ? "–" : chance < 0.001 ? "< 0.001" : chance.toFixed(3),
        evidence,
        next,
      ]),
      notes: [
        "chance by accident: that scatter, gauge and reference alone would show as much; seen below 0.01, suspected below 0.1; – where it can't be told",
        `a sound axis would be told of one cause at least as seen in ${printNumber(100 * found.falseAlarm, 2)} of 100 tests at most`,
      ],
    }),
  ],
  ({ found }) => [found.test.name, found.test.reference.name],
);
