import type { UnitSystem } from "../quantity/kinds.js";
import { printNumber } from "../quantity/print.js";
import type { GaugeStudy } from "../survey/gauge-study.js";
import { bars } from "./bars.js";
import { Figure } from "./figure.js";

/**
 * Bars of a gauge study: the share of each component in the whole variance, by the method the study goes by.
 *
 * @example
 * const readings = [3, 4, -6, -5, 11, 12].map((height, i) => ({ part: `P${i >> 1}`, value: um(height) }));
 * figure.studyBars(survey.gaugeStudy({ readings, partsAre: "places" })).texts.marked.join() // => "0.7 %,99.3 %"
 */
export function studyBars(study: GaugeStudy): Figure {
  const { chosen, sigmas, tolerance } = study;
  const grr = chosen.of("GRR")!;
  const ofTolerance = (system: UnitSystem) =>
    grr.percentOfTolerance === undefined
      ? []
      : [
          `the gauge in all takes ${printNumber(grr.percentOfTolerance, 3)} % of the tolerance of ${tolerance!.text(system)} (${sigmas} s)`,
        ];
  const untested = chosen.of("AV") === undefined ? [`what ${study.words.operator}s differ by is not tested`] : [];
  return Figure.drawn(({ system }) =>
    bars({
      title: study.name,
      subtitle: `share of the whole variance; ${chosen.method}`,
      axis: "share of the variance/%",
      rows: chosen.components
        .filter(({ key }) => key !== "GRR" && key !== "TV")
        .map(({ name, percentOfVariance }) => ({
          label: name,
          value: percentOfVariance,
          text: `${percentOfVariance.toFixed(1)} %`,
        })),
      notes: [...ofTolerance(system), ...untested],
    }),
  );
}
