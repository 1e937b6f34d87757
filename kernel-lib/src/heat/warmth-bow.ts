import { MeasurementError } from "../measurement-error.js";
import { display, kelvin, type MimeBundle, Quantity } from "../quantity/index.js";
import type { StatedTemperature, Survey } from "../survey/index.js";
import { type Budget, budget, input, Measured } from "../uncertainty/index.js";
import { gradientBow } from "./gradient-bow.js";
import { type Known, type Material, needKnown } from "./material.js";

/** Two thermometer places of a survey: lines `# temperature top: 18.4 °C to 18.9 °C` and `# temperature underside: 18.0 °C`. */
export interface ReadDifference {
  readonly survey: Survey;
  /** the place on top and the one underneath, as the sheet calls them */
  readonly top: string;
  readonly underside: string;
  /** each thermometer against the other, ± */
  readonly thermometersWithin: Quantity<"temperature difference">;
}

/** A bow found, and the part it was found on. */
export interface WarmthBowSpec {
  /** the middle above the line through the ends, hollow negative: the bow of `form.makeUp` */
  readonly found: Known<"length">;
  readonly length: Known<"length">;
  /** of a solid slab as stiff as the table with its ribs */
  readonly thickness: Known<"length">;
  readonly material: Material;
  /** top less underside, as a value, or from the lines of a survey */
  readonly difference: Known<"temperature difference"> | ReadDifference;
}

export type WarmthVerdict =
  | "may be all of it"
  | "may be part of it"
  | "is not what was found"
  | "would make more than was found";

/** one limit at 95 % */
const guard = 1.645;

/** Whether a bow that was found may be only the top being warmer or colder than the underside. */
export class WarmthBow {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  readonly found: Measured<"length">;
  readonly difference: Measured<"temperature difference">;
  /** bow that the difference makes in a free part */
  readonly possible: Budget<"length">;
  /** what was found less what the difference makes */
  readonly left: Measured<"length">;
  /** difference that would make all of what was found */
  readonly needed: Budget<"temperature difference">;
  readonly verdict: WarmthVerdict;

  /** @internal made by `warmthBow` */
  constructor(
    readonly spec: WarmthBowSpec,
    difference: Known<"temperature difference">,
  ) {
    const { found, length, thickness, material } = spec;
    this.found = measured(found);
    this.difference = measured(difference);
    this.possible = gradientBow({ length, thickness, material, difference });
    this.left = this.found.minus(this.possible);
    this.needed = budget({
      measurand: "difference of temperature that would make all of the bow found",
      inputs: { found, length, thickness, expansion: material.expansion },
      model: (given) => kelvin((8 * given.thickness.si * given.found.si) / (given.expansion.si * given.length.si ** 2)),
    });
    this.verdict = this.judged();
    Object.freeze(this);
  }

  /** What was found, what the difference makes, what would be needed, the verdict. */
  toString(): string {
    return `bow found ${this.found.text("um")}; the top is ${this.difference.text("K")} warmer than the underside, which bows a free part by ${this.possible.text("um")}; all of it would need ${this.needed.text("K")}; warmth ${this.verdict}: ${this.advice}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }

  private get advice(): string {
    return {
      "may be all of it":
        "let top and underside come to one temperature and survey again before anything is cut, shimmed or scraped",
      "may be part of it": `${this.left.text("um")} is left when it is taken out; let it soak and survey again before that is worked on`,
      "is not what was found": "look for another cause",
      "would make more than was found":
        "screws, ribs or the metal below hold it flat, or a form hollow when cold is hidden under it: survey again when it has soaked",
    }[this.verdict];
  }

  private judged(): WarmthVerdict {
    const sign = this.found.value.si >= 0 ? 1 : -1;
    const most = sign * this.possible.value.si + guard * this.possible.standardUncertainty.si;
    // not more than the doubt of the form itself: nobody could tell it from none
    if (!(most > guard * this.found.standardUncertainty.si)) return "is not what was found";
    const [low, high] = this.left.interval();
    if (low.si <= 0 && high.si >= 0) return "may be all of it";
    return sign * this.left.value.si > 0 ? "may be part of it" : "would make more than was found";
  }
}

/**
 * May this form be warmth? The bow that a difference of temperature between top and underside makes in a free part, against
 * the bow that was found, and the difference that would be needed for all of it.
 *
 * A difference through the thickness, even along the length; held down it bows less. Only thermometers on the two faces tell
 * it: even warmth of one metal makes no bow, and of two metals bolted together `heat.boltedPair` says how much.
 *
 * @throws MeasurementError `heat-value`, `no-thermometer` where the survey names no such place
 * @example
 * heat.warmthBow({
 *   found: um(12), length: mm(500), thickness: mm(20), material: heat.material("aluminium 6061"), difference: kelvin(0.3),
 * }).verdict // => "may be part of it"
 */
export function warmthBow(spec: WarmthBowSpec): WarmthBow {
  needKnown("warmthBow", "the bow found", spec.found, "length");
  const { difference } = spec;
  return new WarmthBow(spec, "survey" in difference ? differenceOf(difference) : difference);
}

function differenceOf({
  survey,
  top,
  underside,
  thermometersWithin,
}: ReadDifference): Measured<"temperature difference"> {
  needKnown("warmthBow", "thermometersWithin", thermometersWithin, "temperature difference", true);
  const places = [top, underside].map((place) => placeOf(survey, place));
  const middle = ({ low, high }: StatedTemperature) => (low.si + high.si) / 2;
  const swing = places.reduce((sum, { low, high }) => sum + (high.si - low.si) / 2, 0);
  const apart = kelvin(middle(places[0]!) - middle(places[1]!));
  return budget({
    measurand: `temperature of ${top} less that of ${underside}`,
    inputs: {
      read:
        swing > 0
          ? input.rectangular({
              label: `${top} less ${underside}, while the survey was read`,
              estimate: apart,
              halfWidth: kelvin(swing),
              source: survey.name,
            })
          : apart,
      thermometers: input.rectangular({
        label: "one thermometer against the other",
        estimate: kelvin(0),
        halfWidth: thermometersWithin,
        source: "stated",
      }),
    },
    model: ({ read, thermometers }) => Quantity.fromSi("temperature difference", read.si + thermometers.si),
  });
}

function placeOf(survey: Survey, place: string): StatedTemperature {
  const found = survey.temperatures.find(({ where }) => where === place);
  if (found) return found;
  const named = survey.temperatures.map(({ where }) => where || "(no place)");
  throw new MeasurementError(
    "no-thermometer",
    `warmthBow: ${survey.name} says no temperature of ${JSON.stringify(place)}, only of ${named.join(", ") || "none"}; a bow by warmth is told by thermometers on top and underside: write "# temperature ${place}: 18.2 °C" on the sheet, or give the difference`,
  );
}

function measured<K extends "length" | "temperature difference">(given: Known<K>): Measured<K> {
  if (given instanceof Measured) return given;
  return given instanceof Quantity ? Measured.of(given, []) : Measured.from(given);
}
