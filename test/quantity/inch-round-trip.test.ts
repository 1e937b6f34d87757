import * as fc from "fast-check";
import { expect, it } from "vitest";
import { type Kind, Quantity } from "../../kernel-lib/src/quantity/index.js";
import { units } from "../../kernel-lib/src/quantity/kinds.js";

const kinds = Object.keys(units) as Kind[];
const value = fc.integer({ min: -1e9, max: 1e9 }).map((digits) => digits / 1e5);

it.each(kinds)("a %s printed in inch units is read back to the six digits printed", (kind) => {
  fc.assert(
    fc.property(value, fc.integer({ min: -6, max: 2 }), (lead, power) => {
      const si = kind === "temperature" ? Math.abs(lead) : lead * 10 ** power;
      const back = Quantity.parse(kind, Quantity.fromSi(kind, si).text("inch"));
      // half a unit of the sixth digit; of a temperature the scale's zero lies elsewhere
      const size = kind === "temperature" ? Math.abs(si) + 256 : Math.abs(si);
      expect(Math.abs(back.si - si)).toBeLessThanOrEqual(5.1e-6 * size);
    }),
    { seed: 12, numRuns: 200 },
  );
});
