import { expect, it } from "vitest";
import { axis, gauge, mm, seconds, um } from "../../kernel-lib/src/index.js";
import { refusal } from "../refusal.js";

const dial = gauge({ resolution: um(1), maximumPermissibleError: um(3) });
const reference = { name: "blocks" };
const reading = (target: number, direction: "up" | "down", run: number, deviation: number) => ({
  ...{ target: mm(target), direction, run, deviation: um(deviation) },
});
const both = (targets: readonly number[], runs: readonly number[] = [1, 2]) =>
  runs.flatMap((run) => [
    ...targets.map((at) => reading(at, "up", run, at / 10)),
    ...targets.toReversed().map((at) => reading(at, "down", run, at / 10 + 9)),
  ]);
const test = (readings: readonly object[]) =>
  axis.positioningTest({ axis: "X", readings: readings as never, gauge: dial, reference });
const sheet = (columns: string, ...rows: string[]) =>
  axis.parsePositioning(
    [
      "# axis: X",
      "# gauge resolution: 1 µm",
      "# gauge maximum permissible error: 3 µm",
      "# reference: gauge blocks",
      `target/mm,direction,run,${columns}`,
      ...rows,
    ].join("\n"),
    { name: "x.csv" },
  );
const first = reading(0, "up", 1, 0);
const drive = axis.driveTrain({ fullStepsPerTurn: 200, microsteps: 8, lead: mm(5) });
const plan = (more: object) =>
  axis.positioningPlan({ axis: "X", travel: [mm(0), mm(300)], lead: mm(4), gauge: dial, reference, ...more } as never);

it.each<[act: () => unknown, sentence: string]>([
  [
    () => test(both([40])),
    "positioning of X: there is one target, 40 mm; an axis needs two at least, five for each metre",
  ],
  [
    () => test([{ ...first, target: 40 }]),
    "positioning of X, reading 1: its target is 40; give a length such as mm(40)",
  ],
  [
    () => test([{ ...first, deviation: 3 }]),
    "positioning of X, reading 1: its deviation is 3; give a length such as um(3)",
  ],
  [
    () => test([{ ...first, direction: "left" }]),
    'positioning of X, reading 1: its direction is "left"; write "up" or "down", the side it was approached from',
  ],
  [() => test([{ ...first, run: 0 }]), "positioning of X, reading 1: its run is 0; number the runs from 1"],
  [() => test(both([0, 40])).deviations(7, "up"), "deviations: there is no target 7; there are 2, counted from 0"],
  [
    () => axis.systematicPart(test(both([0, 40]))),
    "systematicPart: 2 targets; a slope and what is left of it need three at least",
  ],
  [
    () => axis.systematicPart(test(both([0, 41, 83, 120], [1, 2, 3]))).newStepsPerMm(0),
    "newStepsPerMm: 0 steps per mm; give the number that the control has now, above zero",
  ],
  [() => drive.repeated(mm(1), 0), "driveTrain: repeated: 0 moves; give a whole number from 1 to 10000"],
  [() => drive.patternOf(mm(0)), "driveTrain: patternOf: a move of 0 µm; give one that is not zero"],
  [
    () => axis.driveTrain({ fullStepsPerTurn: 200, microsteps: 8, lead: mm(5), motorTurnsPerScrewTurn: 0 }),
    "driveTrain: motorTurnsPerScrewTurn is 0; give a number above zero, 2 for a belt of 2 : 1",
  ],
  [() => plan({ feed: 300 }), "positioningPlan: feed is 300; give one such as mmPerMin(300)"],
  [
    () => plan({ travel: [mm(0), 300] }),
    "positioningPlan: end 2 of the travel is 300; give two lengths such as [mm(0), mm(500)]",
  ],
  [() => plan({ overTravel: mm(0) }), "positioningPlan: overTravel is 0 mm; give a length above zero, such as mm(2)"],
  [() => plan({ dwell: 3 }), "positioningPlan: dwell is 3; give a time such as seconds(3)"],
  [
    () =>
      axis.smallMoves({
        axis: "X",
        commanded: [um(0), um(5), um(10)],
        readings: [um(0), 5, seconds(1)] as never,
        gauge: dial,
      }),
    "smallMoves: number 2 holds 5; give lengths such as um(5)",
  ],
  [
    () => axis.positioningFigures([0, 0, 0], [0, 1, 1], [1, 2, 3], 1),
    "positioningFigures: target 1 has 1 reading upwards; at least 2 are needed each way, 5 are usual",
  ],
  [
    () => sheet("deviation/um,position/mm", "0,up,1,0,0"),
    "x.csv: there is a column of deviation and one of position; one says it all, leave one of the two",
  ],
  [
    () => sheet("note", "0,up,1,fine"),
    "x.csv: there is no column of deviation or position; write the heading target/mm,direction,run,deviation/um,time,temperature/degC,note",
  ],
  [() => sheet("deviation/um", "0,up,0,3"), 'x.csv line 6, column run: "0" is no run; number the runs from 1'],
  [
    () => sheet("deviation/um,deviation/mm", "0,up,1,3,0.003"),
    'x.csv line 5, column 5: the heading "deviation/mm" names deviation once more; leave one of the two',
  ],
])("refuses with the whole sentence: %#", (act, sentence) => {
  expect(refusal(act).message).toBe(sentence);
});
