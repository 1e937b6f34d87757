import { bidirectional, checksum } from "../generate.mjs";
import { positioningTask } from "./shared/positioning.mjs";

/** One large positioning test, readings in any order. */
export default positioningTask({
  variant: "positioning",
  against: { python: "w10_positioning.py", variant: "bincount", ratio: 1 },
  sizes: [10_000, 100_000],
  make(size) {
    const inputs = bidirectional(1010, size / 100, 50);
    return { inputs, checksum: checksum(inputs.values) };
  },
  run({ positions, directions, values, count }, { axis }) {
    return [axis.positioningFigures(positions, directions, values, count)];
  },
});
