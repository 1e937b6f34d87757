import { datumVisits } from "./datum-visits.js";
import type { Checked, Finding } from "./finding.js";

/** a reading counts as off beyond so many standard deviations of its distance: on clean sheets next to never */
const limit = 6;

/** One reading of a datum, taken some times one after the other, that stands off the others of the same visit. */
export function checkDatumReadings({ raw, scatter }: Checked): readonly Finding[] {
  const visits = datumVisits(raw, scatter).filter(({ z }) => z.length >= 3);
  const sums = visits.map(({ z, mean }) => z.reduce((sum, one) => sum + (one - mean) ** 2, 0));
  const all = sums.reduce((sum, one) => sum + one, 0);
  const freedom = visits.reduce((sum, { z }) => sum + z.length - 1, 0);
  return visits.flatMap(({ label, pass, z, mean }, k): Finding[] => {
    const rest = freedom - (z.length - 1);
    if (rest < 4) return [];
    // the visit itself does not say how far readings scatter; below half a step scatter is not believed
    const s = Math.max(Math.sqrt((all - sums[k]!) / rest), raw.step / 2);
    const offs = z.map((one) => ((one - mean) * z.length) / (z.length - 1));
    const worst = offs.reduce((best, off, i) => (Math.abs(off) > Math.abs(offs[best]!) ? i : best), 0);
    const spread = s * Math.sqrt(1 + 1 / (z.length - 1));
    if (!(Math.abs(offs[worst]!) > limit * spread)) return [];
    return [
      {
        check: "datum reading",
        severity: "check",
        what: `${label}, pass ${pass}: reading ${worst + 1} of ${z.length} taken one after the other stands ${Math.abs(offs[worst]!).toFixed(1)} µm ${offs[worst]! > 0 ? "above" : "below"} the others`,
        places: [label],
        howSure: `${(Math.abs(offs[worst]!) / spread).toFixed(0)} standard deviations; ${limit} are asked for`,
        whatToDo:
          "look at the paper, wipe and read that datum again; until then the drift taken out is wrong by a part of it",
      },
    ];
  });
}
