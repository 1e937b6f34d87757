import { type PositioningTestOptions, positioningTest } from "../../kernel-lib/src/axis/positioning-test.js";
import { gauge, mm, um } from "../../kernel-lib/src/index.js";

type Given = Partial<PositioningTestOptions>;

export const dial = gauge({ resolution: um(1), maximumPermissibleError: um(3) });

/** A test whose readings (µm) follow from place, direction and run: for figures that can be worked out by hand. */
export function plantedTest(
  targets: readonly number[],
  runs: readonly number[],
  law: (at: number, direction: "up" | "down", run: number) => number,
  more: Given = {},
) {
  const readings = runs.flatMap((run) =>
    (["up", "down"] as const).flatMap((direction) =>
      (direction === "up" ? targets : targets.toReversed()).map((at) => ({
        ...{ target: mm(at), direction, run, deviation: um(law(at, direction, run)) },
      })),
    ),
  );
  return positioningTest({ axis: "X", readings, gauge: dial, reference: { name: "blocks" }, ...more });
}
