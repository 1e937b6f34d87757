import { measuringCautions } from "../facing/cautions.js";
import type { SpindleTram } from "../form/index.js";
import { printDecimals } from "../quantity/print.js";
import { facingOf } from "../survey/plan-outline.js";
import type { Frame } from "../survey/surface.js";
import type { Figure } from "./figure.js";
import { figureLines } from "./options.js";
import { layOutContent } from "./plan-layout.js";
import { planFigure } from "./plan-map.js";
import { scaleText } from "./print-units.js";
import { restated } from "./restated.js";

/** as most tables are written down: FRONT below, +X to the right */
export const usualFrame: Frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };

/**
 * The swept circle of a spindle tram as the operator at FRONT sees it: every place with its reading from the mean of the circle,
 * a line from the axis to where the top of the head leans, cautions below.
 *
 * @param frame of the table's map; FRONT at y−, +X right where left out
 * @example
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(2) });
 * const at = (angle, z) => ({ angle: deg(angle), reading: um(z) });
 * const found = form.spindleTram({ name: "head", radius: mm(75), gauge: dial, readings: [at(0, 10), at(90, 0), at(180, -10), at(270, 0)] });
 * figure.tramCircle(found).texts.lines[0]?.slice(0, 8) // => "Caution:"
 */
export function tramCircle(tram: SpindleTram, frame: Frame = usualFrame): Figure {
  const { sweep, circleUm } = tram;
  const radius = sweep.radius.in("mm");
  const on = (turn: number, r = radius) => ({ xMm: r * Math.cos(turn), yMm: r * Math.sin(turn) });
  const start = tram.isTold ? tram.direction.si : 0;
  const ring = Array.from({ length: 73 }, (_, i) => on(start + (i * Math.PI) / 36));
  const lean = tram.isTold ? [{ xMm: 0, yMm: 0 }] : [];
  const span = { fromMm: -1.35 * radius, toMm: 1.35 * radius };
  const against = tram.againstTravel ? "against the travel, as it cuts" : "against the table under the sweep";
  const leaning = tram.isTold
    ? `the top leans ${tram.size.text("um/m")} towards ${printDecimals(tram.direction.in("deg"), 0)}°`
    : "no tilt can be told from none";
  const again = sweptPlaces(tram).length < sweep.readings.length ? ", the mean of its turns" : "";
  return planFigure((units) =>
    layOutContent(
      {
        title: `Tram: ${sweep.name}`,
        subtitle: `${against}; ${restated(leaning, units.system)}; at each place its reading in ${units.height.symbol} from the mean of the circle${again}`,
        alt: `Circle of ${sweep.readings.length} readings about the spindle, ${sweep.name}: ${restated(leaning, units.system)}.`,
        facing: facingOf(frame),
        rim: false,
        outline: { table: { x: span, y: span }, travel: {}, slots: [], holes: [], obstacles: [] },
        places: sweptPlaces(tram).map(({ turn, um }) => ({
          label: printDecimals(units.height.of(um - circleUm.mean), 1 + units.height.moreDecimals),
          ...on(turn),
          outwardRad: turn,
        })),
        datums: [],
        visits: [...lean, ...ring],
        lines: figureLines({
          cautions: [{ title: "while the indicator is in the spindle", lines: measuringCautions }],
          notes: [
            `radius ${scaleText(units.place, radius, 1)}; x and y from the axis of the spindle; the line from the axis points where the top of the head leans and the cutter cuts deeper`,
          ],
        }),
      },
      units,
    ),
  );
}

/** each place once, its reading as a height from the circle and what it leaves; the mean of a place that was read again */
function sweptPlaces(tram: SpindleTram): readonly { readonly turn: number; readonly um: number }[] {
  const { circleUm, residualsUm, sweep } = tram;
  const found = new Map<string, { turn: number; sum: number; count: number }>();
  sweep.readings.forEach(({ angle }, i) => {
    const turn = angle.si;
    const um = circleUm.mean + circleUm.cosine * Math.cos(turn) + circleUm.sine * Math.sin(turn) + residualsUm[i]!;
    const key = `${Math.cos(turn).toFixed(4)} ${Math.sin(turn).toFixed(4)}`;
    const { sum = 0, count = 0 } = found.get(key) ?? {};
    found.set(key, { turn, sum: sum + um, count: count + 1 });
  });
  return [...found.values()].map(({ turn, sum, count }) => ({ turn, um: sum / count }));
}
