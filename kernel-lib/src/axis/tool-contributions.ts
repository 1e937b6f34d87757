import { type Length, Quantity } from "../quantity/index.js";
import { Measured } from "../uncertainty/index.js";
import type { LiftUnderPull } from "./lift-under-pull.js";
import type { Positioning } from "./positioning.js";
import type { AxisName } from "./positioning-test.js";
import type { SmallMoves } from "./small-moves.js";
import type { SystematicPart } from "./systematic-part.js";
import type { ThreeAxesOptions } from "./three-axes.js";

/** What is known of one axis. */
export interface AxisErrors {
  readonly positioning?: Positioning;
  readonly part?: SystematicPart;
  /** a ladder under a known upward pull, for an axis on which gravity acts: its play is then the one that counts */
  readonly ladderUnderPull?: SmallMoves;
  /** how much higher such an axis stands once a cutter carries what hangs on it */
  readonly lift?: LiftUnderPull;
}

/** One error at the tool. */
export interface Contribution {
  /** "lost motion of X" */
  readonly source: string;
  /** the way in which it moves the tool */
  readonly direction: AxisName;
  /** over the work given; with its sign where it has one */
  readonly error: Measured<"length">;
  /** when it shows */
  readonly shows: string;
}

/** All that is measured, line by line. */
export function contributionsOf(options: ThreeAxesOptions): readonly Contribution[] {
  return [...(["X", "Y", "Z"] as const).flatMap((name) => axisLines(name, options)), ...angleLines(options)];
}

function axisLines(name: AxisName, { axes, work }: ThreeAxesOptions): readonly Contribution[] {
  const given = axes[name];
  if (given === undefined) return [];
  const { positioning, part, ladderUnderPull, lift } = given;
  const play = ladderUnderPull?.play ?? part?.play ?? positioning?.lostMotion;
  const line = (source: string, error: Measured<"length"> | undefined, shows: string): readonly Contribution[] =>
    error ? [{ source: `${source} of ${name}`, direction: name, error, shows }] : [];
  return [
    ...line("lost motion", play, "at each turn of direction"),
    ...line("lift", lift?.lift, `where the cutter pushes up with ${lift?.pull}, more than hangs on it`),
    ...line("pitch", part && over(part.slope, work[name]), `over ${work[name].text("mm")}`),
    ...line("repeatability R", positioning?.repeatabilityUp, "from part to part, one way of approach"),
  ];
}

function angleLines({ squareness = {}, tram, work, cutterDiameter }: ThreeAxesOptions): readonly Contribution[] {
  const { XY, XZ, YZ } = squareness;
  const angle = (
    source: string,
    direction: AxisName,
    slope: Measured<"slope"> | undefined,
    length: Length | undefined,
    shows: string,
  ): readonly Contribution[] =>
    slope && length ? [{ source, direction, error: over(slope, length), shows: `${shows} ${length.text("mm")}` }] : [];
  return [
    ...angle("squareness of Y to X", "X", XY, work.Y, "going along Y by"),
    ...angle("squareness of Z to X", "X", XZ, work.Z, "going along Z by"),
    ...angle("squareness of Z to Y", "Y", YZ, work.Z, "going along Z by"),
    ...angle("lean of the spindle along X", "Z", tram?.x, cutterDiameter, "across a cutter of"),
    ...angle("lean of the spindle along Y", "Z", tram?.y, cutterDiameter, "across a cutter of"),
  ];
}

/** a slope over a length, correlated with what the slope came from */
function over({ value, terms }: Measured<"slope">, length: Length): Measured<"length"> {
  return Measured.of(
    Quantity.fromSi("length", value.si * length.si),
    terms.map(({ input, sensitivity }) => ({ input, sensitivity: sensitivity * length.si })),
  );
}
