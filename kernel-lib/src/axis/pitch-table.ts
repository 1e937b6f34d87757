import type { PlainReading } from "./arranged-readings.js";
import type { Positioning } from "./positioning.js";
import { type PositioningTest, testOfReadings } from "./positioning-test.js";

/** Lost motion and pitch table as a control would hold them. */
export interface Table {
  readonly reversalUm: number;
  readonly pitchUm: readonly number[];
  readonly targetsMm: readonly number[];
}

/**
 * The corrections that an evaluated test asks for, rounded to the step of the control. A vertical axis asks for no lost motion: its
 * weight closes the play, and told of one the control would drive it too far at each turn of direction.
 */
export function tableOf({ figures, test }: Positioning, stepUm: number): Table {
  const rounded = (value: number) => stepUm * Math.round(value / stepUm) + 0;
  const middle = figures.meanUp.map((up, i) => (up + figures.meanDown[i]!) / 2);
  return {
    reversalUm: test.vertical ? 0 : rounded(-figures.meanReversal),
    pitchUm: middle.map((mean) => rounded(middle[0]! - mean)),
    targetsMm: test.targetsMm,
  };
}

/** the readings as they would have been: the table added, half of the lost motion taken from each direction */
export function corrected(
  test: PositioningTest,
  table: Table,
  keep: (run: number) => boolean,
  share = 1,
): PositioningTest {
  const pitch = new Map(table.targetsMm.map((target, i) => [target, table.pitchUm[i]!]));
  const half = (share * table.reversalUm) / 2;
  const readings = test.readings
    .filter(({ run }) => keep(run))
    .map(
      (reading): PlainReading => ({
        ...reading,
        deviationUm: reading.deviationUm + pitch.get(reading.targetMm)! + (reading.direction === "up" ? half : -half),
      }),
    );
  const name = `${test.name}, compensated`;
  const { axis, gauge, reference, vertical, senseProven } = test;
  return testOfReadings({ axis, gauge, reference, vertical, senseProven, name }, readings, name, () => name);
}

/** scatter of the two means, rounding of the control, gauge and reference from the first target on */
export function pitchDoubt({ doubt, test }: Positioning, i: number, stepUm: number): number {
  if (i === 0) return stepUm / Math.sqrt(12);
  const metres = (test.targetsMm[i]! - test.targetsMm[0]!) / 1000;
  const scale = Math.hypot(...doubt.scale.map(({ uncertaintySi }) => uncertaintySi * 1e6 * metres));
  const gauge = Math.hypot(...doubt.gauge.map(({ uncertaintySi }) => uncertaintySi * 1e6));
  return Math.hypot(doubt.scatterUm / Math.sqrt(test.runs), stepUm / Math.sqrt(12), gauge, scale);
}
