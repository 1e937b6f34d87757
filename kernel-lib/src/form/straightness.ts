import { minimumZoneLine } from "../numerics/index.js";
import { minimumZoneLineWidths } from "../numerics/minimum-zone-line.js";
import { display, type Length, type MimeBundle } from "../quantity/index.js";
import { type CorrectedWidth, corrected } from "./corrected-width.js";
import { type Doubt, newDoubt } from "./flatness-terms.js";
import { cumulate, heightsOf, type Line, lineOfMap } from "./line.js";
import { relativeWords } from "./place-words.js";
import { range, type SurfaceSource, withOpenFindings } from "./places.js";
import { smoothLines } from "./smooth-form.js";

/** A straight line laid through a profile, and how far the profile leaves it. */
export interface LineFigure {
  /** as read, what noise adds, and what is left with its uncertainty */
  readonly width: CorrectedWidth;
  /** µm per mm, and µm at 0 mm */
  readonly slope: number;
  readonly offset: number;
  /** distance of each place from the line in µm */
  readonly residualsUm: readonly number[];
}

/** Straightness of a line of places by the three reference lines in use. */
export class Straightness {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly heightsUm: readonly number[];
  private readonly layer: LineLayer;
  /** "relative to travel" */
  readonly relative: string;

  /** @internal made by `straightness` */
  constructor(
    readonly line: Line,
    seed: number,
  ) {
    this.heightsUm = heightsOf(line);
    this.relative = relativeWords(line.relativeTo);
    this.layer = new LineLayer(line, this.heightsUm, seed);
    Object.freeze(this);
  }

  get leastSquares(): LineFigure {
    return this.layer.figure("least squares");
  }

  get endPoints(): LineFigure {
    return this.layer.figure("end points");
  }

  /** The figure that verdicts take. */
  get minimumZone(): LineFigure {
    return this.layer.figure("minimum zone");
  }

  /** Straightness by the minimum zone, corrected for the noise of the readings. */
  get overall(): CorrectedWidth["corrected"] {
    return this.minimumZone.width.corrected;
  }

  toString(): string {
    const { leastSquares, endPoints, minimumZone, line } = this;
    const raw = (figure: LineFigure) => `${figure.width.raw.in("um").toFixed(1)} µm`;
    const bias = `${minimumZone.width.bias.in("um").toFixed(1)} µm`;
    const sentence = `straightness of ${line.name} along ${line.along}, ${this.relative}: ${this.overall} (minimum zone ${raw(minimumZone)} as read, less ${bias} that the noise of the readings adds); least-squares line ${raw(leastSquares)}, end-point line ${raw(endPoints)} as read; at the ${line.atMm.length} places probed`;
    return withOpenFindings(sentence, line);
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Straightness of a row or column of a map, or of a line of levels: least-squares line, end-point line, minimum zone.
 *
 * As with flatness the width of noisy readings comes out too high; by how much is simulated (seeded) at the profile with
 * the noise taken out, and taken off. Along a line of levels the noise of each step carries into all heights after it.
 *
 * @param source a map with `along` and `at`, or a line as `levelLine` gives it
 * @throws MeasurementError `no-such-line`, `too-few-places`, and as `flatness`
 * @see ISO 12780-1:2011 (reference lines), from public summaries
 * @example
 * const frame = { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" };
 * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 100 * i, yMm: 20 * j, zUm: 5 * i * (3 - i), count: 2 })));
 * const map = { name: "map", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(2) }), places, noise: { standardUncertaintyUm: 0.1, degreesOfFreedom: 9 } };
 * form.straightness(map, { along: "x", at: mm(20) }).endPoints.width.raw.text() // => "10 µm"
 */
export function straightness(
  source: SurfaceSource,
  which: { readonly along: "x" | "y"; readonly at: Length; readonly seed?: number },
): Straightness {
  return new Straightness(lineOfMap(source, which), which.seed ?? 1);
}

/** Straightness of a line of levels or of any other line of heights. @throws MeasurementError as `straightness`
 * @example typeof form.straightnessOf // => "function" */
export function straightnessOf(line: Line, options: { readonly seed?: number } = {}): Straightness {
  return new Straightness(line, options.seed ?? 1);
}

type Reference = "least squares" | "end points" | "minimum zone";

/** Lays lines through one profile; they share its noise and drift. */
class LineLayer {
  private readonly doubt: Doubt;
  private readonly forms: readonly (readonly number[])[];
  private readonly made = new Map<Reference, LineFigure>();

  constructor(
    private readonly line: Line,
    private readonly heights: readonly number[],
    private readonly seed: number,
  ) {
    const { noise, gauge, caveat, modesUm, atMm, readUm, reads } = line;
    this.doubt = newDoubt({ noise, caveat, ...(gauge ? { gauge } : {}) }, modesUm.length);
    this.forms =
      reads === "heights"
        ? smoothLines(atMm, readUm, noise, 1)
        : smoothLines(atMm.slice(1), readUm.slice(1), noise, 0).map((steps) => [0, ...steps]);
  }

  /** found when first read */
  figure(by: Reference): LineFigure {
    const made = this.made.get(by) ?? this.make(by);
    this.made.set(by, made);
    return made;
  }

  private make(by: Reference): LineFigure {
    const { line, heights, doubt, seed } = this;
    const { slope, offset } = lineThrough(by, line.atMm, heights);
    const residualsUm = heights.map((z, i) => z - slope * line.atMm[i]! - offset);
    const remove = removal(by, line.atMm);
    const reduce = (values: Float64Array) => {
      if (line.reads === "steps") cumulate(values);
      remove(values);
    };
    const figure = by === "minimum zone" ? minimumZoneLineWidths(line.atMm) : range;
    const drift = line.modesUm.map((mode) => modeEffect(mode, heights, by, line.atMm));
    const width = corrected(
      doubt,
      this.forms,
      { reduce, figure },
      {
        raw: range(residualsUm),
        seed,
        draws: by === "minimum zone" ? 400 : 1000,
        drift,
      },
    );
    return { width, slope, offset, residualsUm };
  }
}

function lineThrough(by: Reference, t: readonly number[], z: ArrayLike<number>): { slope: number; offset: number } {
  if (by === "minimum zone") return minimumZoneLine(t, z);
  const last = t.length - 1;
  if (by === "end points") {
    const slope = (z[last]! - z[0]!) / (t[last]! - t[0]!);
    return { slope, offset: z[0]! - slope * t[0]! };
  }
  let [mt, mz, tt, tz] = [0, 0, 0, 0];
  for (let i = 0; i <= last; i++) {
    mt += t[i]! / t.length;
    mz += z[i]! / t.length;
  }
  for (let i = 0; i <= last; i++) {
    tt += (t[i]! - mt) ** 2;
    tz += (t[i]! - mt) * (z[i]! - mz);
  }
  return { slope: tz / tt, offset: mz - (tz / tt) * mt };
}

/** takes the line out of heights; the minimum zone needs none taken out */
function removal(by: Reference, t: readonly number[]): (z: Float64Array) => void {
  if (by === "minimum zone") return () => undefined;
  return (z) => {
    const { slope, offset } = lineThrough(by, t, z);
    for (let i = 0; i < z.length; i++) z[i] = z[i]! - slope * t[i]! - offset;
  };
}

/** how far a mode of drift moves the width, the places that hold it staying the same */
function modeEffect(mode: readonly number[], heights: readonly number[], by: Reference, t: readonly number[]): number {
  if (by === "minimum zone") return zoneEffect(mode, heights, t);
  const remove = removal(by, t);
  const [left, moved] = [Float64Array.from(heights), Float64Array.from(mode)];
  remove(left);
  remove(moved);
  return moved[left.indexOf(Math.max(...left))]! - moved[left.indexOf(Math.min(...left))]!;
}

/** the width of the zone is the height of one contact above or below the chord of the two it lies between */
function zoneEffect(mode: readonly number[], heights: readonly number[], t: readonly number[]): number {
  const { upper, lower } = minimumZoneLine(t, heights);
  for (const [ends, middles, side] of [
    [upper, lower, 1],
    [lower, upper, -1],
  ] as const) {
    const [a, b] = [ends[0]!, ends.at(-1)!];
    const c = middles.find((i) => t[a]! <= t[i]! && t[i]! <= t[b]! && a !== b);
    if (c === undefined) continue;
    const part = (t[c]! - t[a]!) / (t[b]! - t[a]!);
    return side * ((1 - part) * mode[a]! + part * mode[b]! - mode[c]!);
  }
  return 0;
}
