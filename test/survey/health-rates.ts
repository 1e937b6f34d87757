import { randomStream } from "../../kernel-lib/src/numerics/random.js";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";
import { inventSurvey, statistical } from "./invented-survey.js";

/** Surveys of many sizes and scatters, drawn from the seed; step of the gauge 1 µm. */
function draw(seed: number, leastScatter: number) {
  const random = randomStream(seed, 77);
  const scatter = leastScatter + (2 - leastScatter) * random.uniform();
  return {
    law: {
      seed,
      scatter,
      step: 1,
      columns: 5 + Math.floor(7 * random.uniform()),
      rows: 5 + Math.floor(3 * random.uniform()),
    },
    /** of one reading, rounding included */
    spread: Math.hypot(scatter, 1 / Math.sqrt(12)),
    uniform: random.uniform(),
  };
}

export interface Rate {
  readonly cases: number;
  readonly hits: number;
}

/** clean sheets on which any check that rests on statistics raises its hand */
export function falseAlarms(cases: number, from = 1): Rate {
  let hits = 0;
  for (let seed = from; seed < from + cases; seed++) {
    const { findings } = parseSurvey(inventSurvey(draw(seed, 0.1).law).text).health();
    const alarm = findings.some(
      (f) => statistical.includes(f.check) && !(f.check === "drift" && f.severity === "note"),
    );
    if (alarm) hits++;
  }
  return { cases, hits };
}

/** sheets with one reading too high by `from` to `to` standard deviations, on which its place is named */
export function swarfFound(cases: number, from: number, to: number, start = 50_001): Rate {
  let hits = 0;
  for (let seed = start; seed < start + cases; seed++) {
    const { law, spread, uniform } = draw(seed, 0.5);
    const { text, swarfAt } = inventSurvey({ ...law, swarf: (from + (to - from) * uniform) * spread });
    if (
      parseSurvey(text)
        .health()
        .findings.some((f) => f.places.includes(swarfAt!.place))
    )
      hits++;
  }
  return { cases, hits };
}

/** sheets that drift by `from` to `to` standard deviations, on which drift is found */
export function driftFound(cases: number, from: number, to: number, start = 90_001): Rate {
  let hits = 0;
  for (let seed = start; seed < start + cases; seed++) {
    const { law, spread, uniform } = draw(seed, 0.5);
    const { text } = inventSurvey({ ...law, drift: (from + (to - from) * uniform) * spread });
    if (
      parseSurvey(text)
        .health()
        .findings.some((f) => f.check === "drift" && f.severity === "check")
    )
      hits++;
  }
  return { cases, hits };
}

/** half the width of the 99.9 % band of a count about the share claimed */
export function band(cases: number, share: number): number {
  return 3.29 * Math.sqrt(cases * share * (1 - share));
}
