import { parseSurvey, type Survey } from "../../kernel-lib/src/index.js";
import { randomStream } from "../../kernel-lib/src/numerics/index.js";

/** What is planted in a survey that is read while the spindle grows. */
export interface WarmTruth {
  readonly riseUm: number;
  readonly tauMin: number;
  /** of the first reading, after the record began */
  readonly startMin: number;
  readonly noiseUm: number;
}

const head = [
  "# relative to: travel",
  "# front: y-",
  "# +x: right",
  "# +y: back",
  "# gauge resolution: 0.5 um",
  "# gauge maximum permissible error: 2 um",
];
export const height = (x: number, y: number): number => 8 * ((x - 150) / 150) ** 2 - 0.02 * y;
export const grown = ({ riseUm, tauMin }: WarmTruth, minute: number): number => -riseUm * Math.expm1(-minute / tauMin);

/** A survey of 7 × 3 places in two passes, datum returns before and behind each; times in minutes or by the clock from 19:00. */
export function warmSurvey(truth: WarmTruth, seed: number, clock = false, sense: 1 | -1 = 1): Survey {
  const { normal } = randomStream(seed, 16);
  const rows: string[] = [];
  let minute = truth.startMin;
  const zero = height(0, 0) + grown(truth, truth.startMin);
  const read = (place: string, x: number, y: number, pass: number) => {
    const seen = height(x, y) + grown(truth, minute) - zero + truth.noiseUm * normal();
    const at = clock ? `19:${String(Math.floor(minute)).padStart(2, "0")}:${minute % 1 ? "30" : "00"}` : minute;
    rows.push([place, x, y, (sense * Math.round(seen * 2)) / 2, pass, at].join(","));
    minute += 0.5;
  };
  const datum = (pass: number) => {
    for (let i = 0; i < 3; i++) read("datum", 150, 50, pass);
  };
  for (const pass of [1, 2]) {
    datum(pass);
    for (let row = 0; row < 3; row++) {
      for (let k = 0; k < 7; k++) {
        const column = row % 2 ? 6 - k : k;
        read(`${"ABC"[row]}${column + 1}`, 50 * column, 50 * row, pass);
      }
    }
    datum(pass);
  }
  const more = sense < 0 ? ["# positive: surface stands low"] : [];
  return parseSurvey(
    [...head, ...more, `place,x/mm,y/mm,z/um,pass,${clock ? "time" : "time/min"}`, ...rows].join("\n"),
  );
}
