import { gaugeStudyTask } from "./shared/gauge-study.mjs";

/** Crossed gauge studies, one a call. */
export default gaugeStudyTask({
  variant: "study-single",
  against: { python: "w7_loop.py", variant: "numpy-loop", ratio: 0.1 },
  run({ studies, shape }, { numerics }) {
    return studies.map((study) => numerics.twoWayAnova(study, shape));
  },
});
