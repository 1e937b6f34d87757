import { MeasurementError } from "../measurement-error.js";
import type { FacingJob } from "./program-job.js";
import type { Area, ReachInput } from "./reach.js";

type Side = readonly [from: number, to: number];

/** A rectangle of the map in mm. */
export interface Rectangle {
  readonly x: Side;
  readonly y: Side;
}

/** What the replay holds a text against, as plain numbers: taken from the job, never from the text or its writer. */
export interface ReplayShop {
  readonly offset: number;
  readonly zero: { readonly xMm: number; readonly yMm: number };
  readonly travel: Rectangle;
  readonly travelZ: Side;
  readonly plate: Rectangle;
  readonly radiusMm: number;
  readonly feedAlong: ReachInput["feedAlong"];
  readonly speedPerMin: number;
  readonly greatestPerMin: number;
  readonly feedMmPerMin: number;
  readonly feedDownMmPerMin: number;
  readonly spinUpS: number;
  readonly floorMm: number;
  readonly clearanceMm: number;
  readonly marginMm: number;
  readonly mayClimb: boolean;
  /** heights over Z0 of the planned depths, each once, from the first to the last */
  readonly levelsMm: readonly number[];
  readonly screws: readonly {
    readonly label: string;
    readonly x: number;
    readonly y: number;
    readonly radius: number;
    readonly top: number;
  }[];
  readonly obstacles: readonly { readonly name: string; readonly at: Rectangle; readonly top: number }[];
  /** what a number of the text may be off by: it is written to a thousandth of a millimetre */
  readonly digitMm: number;
  /** parts above the cutter, each from its height over the tip upwards */
  readonly holder: readonly { readonly name: string; readonly radius: number; readonly aboveMm: number }[];
}

/** @throws MeasurementError `holder` */
export function shopOf(job: FacingJob): ReplayShop {
  const speedPerMin = job.speed.in("1/min");
  const levels = job.rounds.map(({ depth }) => -depth.in("mm"));
  return {
    offset: Number(job.workOffset.slice(1)),
    zero: { xMm: job.zero.x.in("mm"), yMm: job.zero.y.in("mm") },
    travel: rectangle(job.travel),
    travelZ: [job.travelZ.from.in("mm"), job.travelZ.to.in("mm")],
    plate: rectangle(job.plate),
    radiusMm: job.cutter.diameter.in("mm") / 2,
    feedAlong: job.feedAlong,
    speedPerMin,
    greatestPerMin: job.cutter.greatestSpeed.in("1/min"),
    feedMmPerMin: speedPerMin * job.cutter.teeth * job.feedPerTooth.in("mm"),
    feedDownMmPerMin: job.feedDown.in("mm/min"),
    spinUpS: job.spinUp.in("s"),
    floorMm: job.floor.in("mm"),
    clearanceMm: job.clearance.in("mm"),
    marginMm: job.margin.in("mm"),
    mayClimb: job.milling === "climb",
    levelsMm: levels.filter((level, i) => levels.indexOf(level) === i),
    screws: job.screws.map(({ label, x, y, headDiameter, headTop }) => ({
      label,
      x: x.in("mm"),
      y: y.in("mm"),
      radius: headDiameter.in("mm") / 2,
      top: headTop.in("mm"),
    })),
    obstacles: (job.obstacles ?? []).map(({ name, area, top }) => ({ name, at: rectangle(area), top: top.in("mm") })),
    digitMm: 0.001,
    holder: (job.cutter.holder ?? []).map(({ name, diameter, above }) => {
      if (diameter.si > 0 && above.si > 0) return { name, radius: diameter.in("mm") / 2, aboveMm: above.in("mm") };
      throw new MeasurementError(
        "holder",
        `facing.replay: ${name} is ${diameter.text("mm")} wide and ${above.text("mm")} above the tip; give both above zero`,
      );
    }),
  };
}

function rectangle({ xFrom, xTo, yFrom, yTo }: Area): Rectangle {
  return { x: [xFrom.in("mm"), xTo.in("mm")], y: [yFrom.in("mm"), yTo.in("mm")] };
}
