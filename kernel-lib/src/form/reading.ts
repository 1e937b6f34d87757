import { fUpperTail } from "../numerics/index.js";
import { display, type Kind, type MimeBundle } from "../quantity/index.js";
import type { Surface } from "../survey/surface.js";
import type { Measured } from "../uncertainty/index.js";
import type { LocalArea } from "./local-areas.js";
import { type LocalHighs, type LocalLows, localHighs, localLows } from "./local-highs.js";
import { type FormTerm, type MakeUp, makeUp } from "./make-up.js";
import { placeWords, relativeWords } from "./place-words.js";
import { partOf, type SurfaceSource, surfaceOf, withOpenFindings } from "./places.js";

/** one term counts when chance alone would show any of the five in fewer than 5 of 100 maps (Bonferroni) */
const level = 0.05 / 5;

/** The form of a map in plain words, from the terms and areas that stand out by more than chance. */
export class FormReading {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** the words, a part each: the bows, the twist, patches, what is left */
  readonly parts: readonly string[];

  /** @internal made by `reading` */
  constructor(
    readonly surface: Surface,
    /** terms of the map with the places of patches left out */
    readonly makeUp: MakeUp,
    readonly highs: LocalHighs,
    readonly lows: LocalLows,
  ) {
    this.parts = [...termWords(surface, makeUp), ...patchWords(highs, lows), leftWords(surface, makeUp)];
    Object.freeze(this);
  }

  /** "hollow by 24 µm ± 4 µm along x, and a raised patch of 90 µm ± 5 µm at the left front; what is left is the gauge" */
  get sentence(): string {
    const found = this.parts.slice(0, -1);
    const left = this.parts.at(-1)!;
    if (found.length === 0) return `no bow, twist or patch beyond chance; ${left}`;
    const joined = found.length === 1 ? found[0]! : `${found.slice(0, -1).join(", ")}, and ${found.at(-1)}`;
    return `${joined}; ${left}`;
  }

  toString(): string {
    const { frame, places } = this.surface;
    const sentence = `${this.sentence} (${relativeWords(frame.relativeTo)}, tilt taken out, at the ${places.length} places probed)`;
    return withOpenFindings(sentence, this.surface);
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * What the form of a map is, in plain words: hollow or round, twisted, with raised or sunk patches, and whether what is
 * left is more than the gauge.
 *
 * Only what stands out by more than chance is said: a term against the noise, the unevenness and its own U, an
 * area against the limit for all places together. Places of patches are left out of the terms where enough others remain.
 *
 * @throws MeasurementError as `makeUp` and `localHighs`
 * @example
 * const frame = { relativeTo: "gravity", front: "y-", plusX: "right", plusY: "back" };
 * const places = [-2, -1, 0, 1, 2].flatMap((i) => [-2, -1, 0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 100 * i, yMm: 100 * j, zUm: 5 * i * i + 0.1 * Math.cos(9 * i + 4 * j), count: 2 })));
 * form.reading({ name: "map", frame, gauge: gauge({ resolution: um(0.1), maximumPermissibleError: um(1) }), places, noise: { standardUncertaintyUm: 0.1, degreesOfFreedom: 9 } }).sentence // => "hollow by 20.0 µm ± 1.1 µm along x; what is left is the noise of the readings"
 */
export function reading(source: SurfaceSource): FormReading {
  const surface = surfaceOf(source);
  const highs = localHighs(surface);
  const lows = localLows(surface);
  const apart = new Set([...highs.areas, ...lows.areas].flatMap((area) => area.places.map((place) => place.label)));
  const bare = without(surface, apart);
  const enough = bare.places.length >= Math.max(9, 0.6 * surface.places.length) && rowsAndColumns(bare) >= 3;
  return new FormReading(surface, makeUp(enough ? bare : surface), highs, lows);
}

function without(surface: Surface, labels: ReadonlySet<string>): Surface {
  if (labels.size === 0) return surface;
  return partOf(
    surface,
    surface.places.flatMap((place, i) => (labels.has(place.label) ? [] : [i])),
  );
}

function rowsAndColumns({ places }: Surface): number {
  return Math.min(new Set(places.map((p) => p.xMm)).size, new Set(places.map((p) => p.yMm)).size);
}

/** beyond the noise, beyond the unevenness, and beyond its own U, which holds the gauge and the drift too */
function stands({ beyondGauge, beyondUnevenness, amplitude }: FormTerm<"length">): boolean {
  const { value } = amplitude;
  return beyondGauge.p < level && beyondUnevenness.p < level && Math.abs(value.si) > amplitude.expandedUncertainty().si;
}

function termWords(surface: Surface, found: MakeUp): string[] {
  const words: string[] = [];
  for (const [term, axis] of [
    [found.bowX, "x"],
    [found.bowY, "y"],
  ] as const) {
    if (!stands(term)) continue;
    words.push(`${term.amplitude.value.si < 0 ? "hollow" : "round"} by ${size(term.amplitude)} along ${axis}`);
  }
  if (stands(found.twist)) words.push(`twisted by ${size(found.twist.amplitude)} (${highCorners(surface, found)})`);
  const waves = found.higher.filter(stands).map((term) => term.name);
  if (waves.length > 0) words.push(`waves of third or fourth order (${waves.join(", ")})`);
  return words;
}

function highCorners({ frame, places }: Surface, { twist }: MakeUp): string {
  const xs = places.map((p) => p.xMm);
  const ys = places.map((p) => p.yMm);
  const [x0, x1, y0, y1] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const rising = twist.amplitude.value.si > 0;
  const corners = rising
    ? [
        { xMm: x0, yMm: y0 },
        { xMm: x1, yMm: y1 },
      ]
    : [
        { xMm: x1, yMm: y0 },
        { xMm: x0, yMm: y1 },
      ];
  const [one, other] = corners.map((corner) => placeWords(frame, places, corner));
  return `${one} and ${other} high`;
}

function patchWords(highs: LocalHighs, lows: LocalLows): string[] {
  const said = (area: LocalArea, kind: string) => `a ${kind} patch of ${size(area.height)} ${at(area.where)}`;
  return [...highs.areas.map((area) => said(area, "raised")), ...lows.areas.map((area) => said(area, "sunk"))];
}

function at(where: string): string {
  return where === "middle" ? "in the middle" : `at the ${where}`;
}

function leftWords({ noise }: Surface, { restOfAll }: MakeUp): string {
  const { standardDeviationUm, degreesOfFreedom } = restOfAll;
  const u = noise.standardUncertaintyUm;
  const p = fUpperTail((standardDeviationUm / u) ** 2, degreesOfFreedom, Math.min(noise.degreesOfFreedom, 1e9));
  if (p >= level) return "what is left is the noise of the readings";
  const digits = (value: number) => value.toPrecision(2);
  return `what is left, ${digits(standardDeviationUm)} µm (standard deviation of a place), is more than the ${digits(u)} µm of the readings explain: the surface is uneven from place to place`;
}

/** "24.0 µm ± 4.1 µm", without a sign */
function size<K extends Kind>(amplitude: Measured<K>): string {
  return (amplitude.value.si < 0 ? amplitude.times(-1) : amplitude).text().replace(/ \(k = [^)]*\)$/, "");
}
