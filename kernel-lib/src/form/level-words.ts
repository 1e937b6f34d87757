import type { Length } from "../quantity/index.js";
import type { Measured } from "../uncertainty/index.js";
import type { CorrectedWidth } from "./corrected-width.js";
import { type CheckedReading, readingName } from "./level-blunders.js";
import type { ReadingSpread } from "./level-doubt.js";
import { listed } from "./level-graph.js";
import type { LevelLoop } from "./level-loops.js";
import type { LevelSurvey } from "./level-reading.js";
import { slopeWords } from "./place-words.js";

interface Checked {
  readonly readings: readonly CheckedReading[];
  readonly suspects: readonly CheckedReading[];
  readonly unchecked: readonly CheckedReading[];
}

interface Said extends Checked {
  readonly survey: LevelSurvey;
  readonly formName: string;
  readonly relative: string;
  readonly overall: Measured<"length">;
  readonly peakToValley: CorrectedWidth;
  readonly redundancy: number;
  readonly spread: ReadingSpread;
  readonly loops: readonly LevelLoop[];
  readonly greatestClosure: Length | undefined;
}

/** A level network in one line. */
export function networkWords(network: Said): string {
  const { survey, peakToValley, greatestClosure, loops } = network;
  const um1 = (length: Length) => `${length.in("um").toFixed(1)} µm`;
  const closed = loops.length === 1 ? "1 loop closes" : `${loops.length} loops close`;
  const closing = greatestClosure ? `${closed} within ${um1(greatestClosure)}` : "no loop is closed";
  return [
    `${survey.name}: ${network.formName} ${network.relative} ${network.overall}`,
    `${um1(peakToValley.raw)} as read less ${um1(peakToValley.bias)} that the noise of the readings adds`,
    `${survey.readings.length} readings at ${survey.places.length} places, ${network.redundancy} more than needed; one reading scatters by ${slopeWords(network.spread.standardDeviation)}; ${closing}`,
    checkWords(network),
    ...(survey.leftOut ?? []).map((words) => `left out, ${words}`),
  ].join("; ");
}

/** What the test of the readings found. */
export function checkWords({ suspects, unchecked, readings }: Checked): string {
  const blind = unchecked.length > 0 ? `${unchecked.length} of ${readings.length} readings can't be checked` : "";
  const found = suspects.map(
    (r) =>
      `${readingName(r)} stands out by ${slopeWords(r.off!)}${r.orInstead.length > 0 ? ` (or ${listed(r.orInstead)})` : ""}`,
  );
  const clean = unchecked.length === readings.length ? "" : "no reading stands out";
  return [...(found.length > 0 ? found : [clean]), blind].filter((text) => text !== "").join("; ");
}
