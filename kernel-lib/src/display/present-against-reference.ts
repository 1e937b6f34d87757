import type { AgainstReference } from "../proof/index.js";
import { printDecimals } from "../quantity/print.js";
import { stackPresenter } from "./present.js";
import { table } from "./table.js";

/** The count of hits, and every claim with its reference. */
export const presentAgainstReference = stackPresenter<AgainstReference>(
  (scored) => [
    scored.toString(),
    table({
      caption: "What was stated, and what is known better",
      columns: [
        { heading: "where", align: "left" },
        { heading: "what", align: "left" },
        { heading: "stated", align: "left" },
        { heading: "reference", align: "left" },
        { heading: "off by", unit: "u", align: "right" },
        { heading: "score", align: "left" },
      ],
      rows: scored.claims.map(({ where, what, stated, reference, timesU, score }) => [
        where === "" ? "–" : where,
        what,
        stated,
        reference,
        timesU === undefined ? "–" : printDecimals(timesU, 1),
        score,
      ]),
      notes: [
        "hit: the stated 95 % interval holds the reference; off by: stated less reference, in standard uncertainties",
      ],
    }),
  ],
  ({ claims }) => claims.map(({ what }) => what),
);
