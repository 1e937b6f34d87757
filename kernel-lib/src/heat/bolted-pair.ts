import { MeasurementError } from "../measurement-error.js";
import { display, type MimeBundle, Quantity } from "../quantity/index.js";
import { type Budget, budget, budgets, type Measured } from "../uncertainty/index.js";
import { type BondedFigures, bondedFigures } from "./bonded.js";
import { Joint, type JointSpec } from "./joint.js";
import { type Known, type Material, needKnown, withoutDoubt } from "./material.js";

/** One of the two parts bolted together. */
export interface Layer {
  readonly material: Material;
  readonly thickness: Known<"length">;
}

/** Two flat parts of unlike metals, bolted together at one temperature and brought evenly to another. */
export interface BoltedPairSpec {
  readonly upper: Layer;
  readonly lower: Layer;
  /** over which they are held together, and for which bow is asked */
  readonly length: Known<"length">;
  /** across; the force in the joint grows with it, the bow does not depend on it */
  readonly width: Known<"length">;
  /** temperature now less that at which the screws were tightened, the same in both parts */
  readonly warming: Known<"temperature difference">;
  /** the screws; without them it is not said whether the joint holds */
  readonly joint?: JointSpec;
}

/** What two unlike metals do to each other when they warm: between sliding freely and holding fast. */
export class BoltedPair {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  /** how much more the upper grows than the lower when the joint slips */
  readonly differentialLength: Budget<"length">;
  /** bow when nothing slips and nothing else holds the pair flat; positive: the middle stands high */
  readonly bondedBow: Budget<"length">;
  /** the same for one kelvin of warming */
  readonly bondedBowPerKelvin: Measured<"thermal drift">;
  /** force that the joint has to carry at mid-length, the pair free to bow */
  readonly forceFree: Budget<"force">;
  /** the same with the pair held flat */
  readonly forceFlat: Budget<"force">;
  readonly joint: Joint | undefined;
  /** @internal for drawing */
  readonly lengthMm: number;

  /** @internal made by `boltedPair` */
  constructor(readonly spec: BoltedPairSpec) {
    const { upper, lower, length, warming } = spec;
    const own = { length, warming, upperExpansion: upper.material.expansion, lowerExpansion: lower.material.expansion };
    this.differentialLength = budget({
      measurand: `difference in length of the ${upper.material.name} on the ${lower.material.name}`,
      inputs: own,
      model: (given) =>
        Quantity.fromSi(
          "length",
          given.length.si * (given.upperExpansion.si - given.lowerExpansion.si) * given.warming.si,
        ),
    });
    const { of } = bonded(spec);
    this.bondedBow = of.bow;
    this.bondedBowPerKelvin = of.bowPerKelvin;
    this.forceFree = of.forceFree;
    this.forceFlat = of.forceFlat;
    this.lengthMm = withoutDoubt(length).in("mm");
    this.joint = spec.joint
      ? new Joint(spec.joint, { free: this.forceFree, flat: this.forceFlat, bow: this.bondedBow })
      : undefined;
    Object.freeze(this);
  }

  /** Difference in length, bow between nothing and the bonded one, and whether the joint holds. */
  toString(): string {
    const { upper, lower, warming } = this.spec;
    const joint = this.joint ? `; ${this.joint}` : "; the screws are not stated, so that it is open whether it slips";
    return `${upper.material.name} on ${lower.material.name}, ${withoutDoubt(warming)} warmer: ${this.differentialLength.text("um")} difference in length if it slips, a bow of ${this.bondedBow.text("um")} if it holds${joint}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * A plate on a table of another metal: what a change of temperature does to the two, bolted together.
 *
 * Between two ends: the joint slips (difference in length, no bow) and nothing slips (the two-layer strip bows). Strips, evenly
 * warm, of one width; for plates that bow both ways the bow along one side is the same where both metals have about one
 * Poisson's ratio. A table is stiffened by its ribs: give the thickness of a solid slab that is as stiff.
 *
 * @throws MeasurementError `heat-value`, `modulus`
 * @see Timoshenko, Analysis of bi-metal thermostats, 1925 (bow); ISO 1
 * @example
 * heat.boltedPair({
 *   upper: { material: heat.material("aluminium 6061"), thickness: mm(20) },
 *   lower: { material: heat.material("grey iron"), thickness: mm(40) },
 *   length: mm(500), width: mm(200), warming: kelvin(3),
 * }).differentialLength.in("um").toFixed(1) // => "18.9"
 */
export function boltedPair(spec: BoltedPairSpec): BoltedPair {
  needKnown("boltedPair", "length", spec.length, "length", true);
  needKnown("boltedPair", "width", spec.width, "length", true);
  needKnown("boltedPair", "warming", spec.warming, "temperature difference");
  for (const which of ["upper", "lower"] as const) {
    needKnown("boltedPair", `thickness of the ${which} part`, spec[which].thickness, "length", true);
    if (spec[which].material.modulus) continue;
    throw new MeasurementError(
      "modulus",
      `boltedPair: ${spec[which].material.name} has no modulus of elasticity in the table; state it with ownMaterial`,
    );
  }
  return new BoltedPair(spec);
}

function bonded({ upper, lower, length, width, warming }: BoltedPairSpec) {
  return budgets({
    inputs: {
      length,
      width,
      warming,
      upperThickness: upper.thickness,
      lowerThickness: lower.thickness,
      upperExpansion: upper.material.expansion,
      lowerExpansion: lower.material.expansion,
      upperModulus: upper.material.modulus!,
      lowerModulus: lower.material.modulus!,
    },
    model: (given): BondedFigures => bondedFigures(given),
    measurands: {
      bow: "bow if nothing slips",
      bowPerKelvin: "bow per kelvin if nothing slips",
      forceFree: "force in the joint, the pair free to bow",
      forceFlat: "force in the joint, the pair held flat",
    },
  });
}
