import { gaugeStudyTask } from "./shared/gauge-study.mjs";

/** Crossed gauge studies, all of them in one call. */
export default gaugeStudyTask({
  variant: "study-batch",
  against: { python: "w7_batched.py", variant: "numpy-batched", ratio: 1 },
  run({ values, shape }, { numerics }) {
    return numerics.twoWayAnovas(values, shape);
  },
});
