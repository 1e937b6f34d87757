import { MeasurementError } from "../measurement-error.js";
import { display, type Length, type MimeBundle, plain, um } from "../quantity/index.js";
import { Input, input, Measured } from "../uncertainty/index.js";
import { counted } from "../words.js";

/** Readings along one line with an artefact one way round and the other. */
export interface ReversalGiven {
  readonly name: string;
  /** distances along the line; the artefact's are the same in both runs */
  readonly at: readonly Length[];
  /** indicator on the artefact, one reading a place; positive = pushed in */
  readonly normal: readonly Length[];
  /** the same places of the artefact after it was turned over about the line, indicator on its other side */
  readonly reversed: readonly Length[];
  /** in which plane the artefact was turned: "horizontal" on its side, "vertical" over */
  readonly plane: "horizontal" | "vertical";
  /** of one reading */
  readonly standardUncertainty: Length;
  readonly degreesOfFreedom?: number;
  /** needed in the vertical plane: how the artefact sags on its two supports, which turning does not reverse */
  readonly sag?: SagGiven;
}

/** Where the artefact rests and how far its middle hangs below its supports. */
export interface SagGiven {
  /** computed or measured sag at each place, positive downwards */
  readonly at: readonly Length[];
  /** relative standard uncertainty of all of it: 0.2 for a fifth */
  readonly within: number;
}

/** Artefact and machine told apart. Made by `straightedgeReversal`. Distances in µm from the line through the ends. */
export class StraightedgeReversal {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by `straightedgeReversal` */
  constructor(
    readonly given: ReversalGiven,
    /** the motion of the machine along the line, a value a place, about the line through its ends */
    readonly machine: readonly Measured<"length">[],
    /** the artefact itself */
    readonly artefact: readonly Measured<"length">[],
  ) {
    Object.freeze(this);
  }

  toString(): string {
    const { given } = this;
    return `reversal of ${given.name} in the ${given.plane} plane, ${given.at.length} places, from the line through the ends: machine up to ${farthest(this.machine)}, artefact up to ${farthest(this.artefact)}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Straightedge reversal: with m the machine's motion away from the artefact's side and a the artefact, the first run reads
 * a − m and the second a + m: m = (second − first)/2, a = (first + second)/2, each about the line through its ends.
 *
 * Turned in the vertical plane it still sags down: the sag does not reverse and goes into the machine's figure unless it is
 * taken off. So the sag and its doubt are asked for there; least sag between supports at 0.2232 of the length from the ends.
 *
 * @throws MeasurementError `count`, `too-few-places`, `sag`, `uncertainty`
 * @see common metrology practice; support points for equal sag of ends and middle, handbooks (from memory)
 * @example
 * const given = { name: "straightedge", at: [mm(0), mm(100), mm(200)], normal: [um(0), um(1), um(0)], reversed: [um(0), um(5), um(0)], plane: "horizontal", standardUncertainty: um(0.5) };
 * form.straightedgeReversal(given).machine[1]?.in("um").toFixed(3) // => "2.000"
 */
export function straightedgeReversal(given: ReversalGiven): StraightedgeReversal {
  checkReversal(given);
  const { at, normal, reversed, sag, degreesOfFreedom = Number.POSITIVE_INFINITY } = given;
  const group = {};
  const inputs = (run: string, list: readonly Length[]) =>
    list.map(
      (_, i) =>
        new Input({
          label: `${given.name}, ${run} run, place ${i + 1}`,
          estimate: um(0),
          standardUncertainty: given.standardUncertainty,
          distribution: "normal",
          degreesOfFreedom,
          evaluation: "A",
          source: "scatter of one reading",
          group,
        }),
    );
  const measured = (list: readonly Length[], noise: readonly Input<"length">[]) =>
    list.map((value, i) => Measured.of(value, [{ input: noise[i]!, sensitivity: 1 }]));
  const first = measured(normal, inputs("first", normal));
  const second = measured(reversed, inputs("second", reversed));
  const hang = sag === undefined ? at.map(() => undefined) : sagOf(given.name, sag);
  // the surface stands lower by the sag in the first run and higher, seen from the other side, in the second
  const machine = first.map((a, i) => {
    const half = second[i]!.minus(a).times(0.5);
    return hang[i] === undefined ? half : half.minus(hang[i]!);
  });
  const artefact = first.map((a, i) => a.plus(second[i]!).times(0.5));
  return new StraightedgeReversal(given, fromEnds(at, machine), fromEnds(at, artefact));
}

function sagOf(name: string, { at, within }: SagGiven): readonly Measured<"length">[] {
  const share = input.normal({
    label: `sag of ${name}, share of it`,
    estimate: plain(1),
    standardUncertainty: plain(within),
    source: "as computed from supports, section and material",
  });
  return at.map((value) => Measured.of(value, [{ input: share, sensitivity: value.si }]));
}

/** distances from the line through first and last */
function fromEnds(at: readonly Length[], list: readonly Measured<"length">[]): readonly Measured<"length">[] {
  const [first, last] = [list[0]!, list.at(-1)!];
  const length = at.at(-1)!.si - at[0]!.si;
  return list.map((value, i) => {
    const part = (at[i]!.si - at[0]!.si) / length;
    return value.minus(first.times(1 - part).plus(last.times(part)));
  });
}

function farthest(list: readonly Measured<"length">[]): string {
  return list.reduce((best, v) => (Math.abs(v.value.si) > Math.abs(best.value.si) ? v : best)).text("um");
}

function checkReversal({ name, at, normal, reversed, plane, sag, standardUncertainty }: ReversalGiven): void {
  if (!(at.length >= 3)) {
    refuse(
      "too-few-places",
      `${name} was read at ${counted(at.length, "place")}; read three at least, both ends and between`,
    );
  }
  if (!(normal.length === at.length && reversed.length === at.length)) {
    refuse(
      "count",
      `${name} has ${at.length} places, ${normal.length} readings before and ${reversed.length} after the reversal; give each place one of both`,
    );
  }
  if (!at.every((place, i) => i === 0 || place.si > at[i - 1]!.si)) {
    refuse(
      "count",
      `the places of ${name} do not follow each other along the line; give them from one end to the other`,
    );
  }
  if (!(standardUncertainty.si > 0)) {
    refuse("uncertainty", `the uncertainty of one reading of ${name} is ${standardUncertainty}; give one above zero`);
  }
  if (plane === "vertical" && sag === undefined) {
    refuse(
      "sag",
      `${name} was turned over in the vertical plane and sags downwards both times; give its sag at each place with the doubt of it, or turn it on its side`,
    );
  }
  if (sag && !(sag.at.length === at.length && sag.within > 0)) {
    refuse(
      "sag",
      `the sag of ${name} is given at ${sag.at.length} of ${at.length} places, within a share of ${sag.within}; give one a place and a share above zero`,
    );
  }
}

function refuse(code: string, words: string): never {
  throw new MeasurementError(code, `straightedgeReversal: ${words}`);
}
