import type { Replay } from "../facing/replay.js";
import { MeasurementError } from "../measurement-error.js";
import type { Figure } from "./figure.js";
import { heightMap } from "./height-map.js";

/**
 * Map of the plate as the replayed program leaves it: the texture of a tilted rim, and what the cut did not reach.
 *
 * Heights are over Z0 less the last depth, against the machine's own travel; no deflection, heat or gauge is in them.
 *
 * @throws MeasurementError `no-cut` where the program was refused before the cut
 * @example
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const job = { name: "club plate", frame, travel: facing.area(mm(0), mm(520), mm(0), mm(230)), travelZ: { from: mm(-20), to: mm(200) }, plate: facing.area(mm(40), mm(480), mm(20), mm(220)), zero: { x: mm(40), y: mm(20) }, workOffset: "G54", cutter: { diameter: mm(50), teeth: 1, greatestSpeed: perMin(1200) }, speed: perMin(600), feedPerTooth: mm(0.1), feedDown: mmPerMin(100), stepOver: mm(30), runOut: mm(3), feedAlong: "x", rounds: [{ depth: mm(0.3) }], floor: mm(-1), clearance: mm(5), retract: mm(50), spinUp: seconds(5), screws: [], margin: mm(0.5) };
 * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 + 146 * i, yMm: 20 + 100 * j, zUm: 10 * i, count: 2 })));
 * const top = { name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 1, degreesOfFreedom: 12 } };
 * figure.facedMap(facing.replay(facing.program(job).text, job, top, { pitch: mm(5) })).texts.title // => "club plate, as replayed"
 */
export function facedMap(replay: Replay): Figure {
  if (!replay.cut) {
    throw new MeasurementError(
      "no-cut",
      `figure.facedMap: the program of ${replay.job.name} was refused before the cut; mend what the replay names first`,
    );
  }
  return heightMap(replay.cut.surface, {
    notes: [
      "heights over Z0 less the last depth, from the tilt given; deflection, heat and gauge are not in them",
      ...(replay.cut.probed < 1 ? ["nothing is known of what lies outside the outermost places probed"] : []),
    ],
  });
}
