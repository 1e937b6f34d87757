import type { FacingJob } from "../../kernel-lib/src/facing/program-job.js";
import { area } from "../../kernel-lib/src/facing/reach.js";
import { mm, mmPerMin, perMin, seconds, um } from "../../kernel-lib/src/quantity/index.js";
import type { Frame, Surface } from "../../kernel-lib/src/survey/surface.js";

export const usualFrame: Frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };

/** A small invented plate, 120 mm × 70 mm, under a fly cutter of 40 mm: two rounds and a repeat between the lanes. */
export function aJob(more: Partial<FacingJob> = {}): FacingJob {
  return {
    name: "small club plate (invented)",
    frame: usualFrame,
    travel: area(mm(0), mm(240), mm(0), mm(160)),
    travelZ: { from: mm(-15), to: mm(150) },
    plate: area(mm(50), mm(170), mm(40), mm(110)),
    zero: { x: mm(50), y: mm(40) },
    workOffset: "G54",
    cutter: { diameter: mm(40), teeth: 2, greatestSpeed: perMin(1500) },
    speed: perMin(800),
    feedPerTooth: mm(0.08),
    feedDown: mmPerMin(100),
    stepOver: mm(16),
    runOut: mm(3),
    feedAlong: "x",
    rounds: [{ depth: mm(0.3) }, { depth: mm(0.5) }, { depth: mm(0.5), offsetByHalfStep: true }],
    floor: mm(-0.6),
    clearance: mm(5),
    retract: mm(60),
    spinUp: seconds(4),
    screws: [
      { label: "S1", x: mm(65), y: mm(75), headDiameter: mm(10), headTop: mm(-1.6) },
      { label: "S2", x: mm(155), y: mm(75), headDiameter: mm(10), headTop: mm(-1.6) },
    ],
    obstacles: [{ name: "stop", area: area(mm(225), mm(240), mm(60), mm(90)), top: mm(3) }],
    margin: mm(0.5),
    ...more,
  };
}

/** The top of the job's plate as found: 7 × 5 places, heights in µm. */
export function aTop(job: FacingJob, height: (u: number, v: number) => number = (u, v) => 40 * u - 25 * v): Surface {
  const [x0, x1] = [job.plate.xFrom.in("mm"), job.plate.xTo.in("mm")];
  const [y0, y1] = [job.plate.yFrom.in("mm"), job.plate.yTo.in("mm")];
  const places = Array.from({ length: 35 }, (_, k) => {
    const [u, v] = [(k % 7) / 6, Math.floor(k / 7) / 4];
    const label = `${"ABCDE"[Math.floor(k / 7)]}${(k % 7) + 1}`;
    return { label, xMm: x0 + u * (x1 - x0), yMm: y0 + v * (y1 - y0), zUm: height(u, v), count: 2 };
  });
  return {
    name: "plate top",
    frame: job.frame,
    gauge: { name: "dial", resolution: um(1), maximumPermissibleError: um(4) },
    places,
    noise: { standardUncertaintyUm: 0.8, degreesOfFreedom: 34 },
  };
}
