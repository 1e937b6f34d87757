import { bidirectional, checksum } from "../generate.mjs";
import { positioningTask } from "./shared/positioning.mjs";

/** Positioning tests of ordinary size, 11 targets and 5 runs, one a call. */
export default positioningTask({
  variant: "one-test",
  against: { python: "w10_one_test.py", variant: "small-110x1000", ratio: 0.2 },
  sizes: [1000],
  per: (size) => size,
  make(size) {
    const inputs = Array.from({ length: size }, (_, i) => bidirectional(2000 + i, 11, 5));
    return { inputs, checksum: checksum(...inputs.map(({ values }) => values)) };
  },
  run(tests, { axis }) {
    return tests.map(({ positions, directions, values, count }) =>
      axis.positioningFigures(positions, directions, values, count),
    );
  },
});
