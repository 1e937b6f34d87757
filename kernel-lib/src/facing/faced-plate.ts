import { MeasurementError } from "../measurement-error.js";
import { display, type Length, type MimeBundle, mm, plain, Quantity, um } from "../quantity/index.js";
import { type Budget, budget, type Input, input, type Measured } from "../uncertainty/index.js";
import type { DoubtfulLength } from "./conditions-input.js";
import type { CuttingConditions } from "./conditions-result.js";

/** What `facing.facedPlate` is given; lengths are peak to valley over the plate. */
export interface FacedPlateInput {
  readonly conditions: CuttingConditions;
  /** of the replayed cut, or `facing.ridges` of the measured tram, with its doubt */
  readonly texture: Length | DoubtfulLength;
  /** anything from none up to this: what of the travel does not repeat */
  readonly travelRepeatUpTo: Length;
  /** anything from none up to this: change of temperature while it is cut and until it is surveyed */
  readonly heatUpTo: Length;
  /** standard uncertainty of a peak-to-valley by the gauge that will survey it */
  readonly gauge: Length;
  /** of the travel over the plate, surveyed with a level or a straightedge */
  readonly travel?: { readonly straightness: DoubtfulLength; readonly twist: DoubtfulLength };
}

/** Both predictions of a plate that is faced in place; made by `facing.facedPlate`. */
export class FacedPlate {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by `facedPlate` */
  constructor(
    readonly name: string,
    /** what an indicator in this spindle will read over it, peak to valley, at most */
    readonly asThisMachineSees: Budget<"length">,
    /** what a straightedge will find, peak to valley, at most; absent where the travel was not surveyed */
    readonly asStraightedgeSees: Budget<"length"> | undefined,
    /** @internal what a decision needs of it */
    private readonly parts: PlateParts,
  ) {
    Object.freeze(this);
  }

  /** For `decision.options({ plate })`: the same parts, so that the options are judged by this prediction. */
  get outlook(): PlateParts {
    return this.parts;
  }

  get straightedgeText(): string {
    return (
      this.asStraightedgeSees?.text("um") ??
      "unknown unless straightness and twist of the travel are surveyed with a level or a straightedge"
    );
  }

  toString(): string {
    return `${this.name}, faced: as this machine will see it at most ${this.asThisMachineSees.text("um")}; as a straightedge will see it ${this.asStraightedgeSees ? "at most " : ""}${this.straightedgeText}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/** Parts of a faced plate, peak to valley. */
export interface PlateParts {
  readonly texture: Length;
  /** deflection and what it copies of the old form, the upper ends */
  readonly deflectionUpTo: Length;
  readonly travelRepeatUpTo: Length;
  readonly heatUpTo: Length;
  readonly travelFlatness?: Length;
}

/**
 * Two predictions of a plate faced in place, shown together: as this machine will see it (texture, old form copied,
 * deflection, travel that does not repeat, heat, gauge) and as a straightedge will (straightness and twist of the travel besides).
 *
 * Peaks to valleys are added up: that of a sum of forms is never more. So both are bounds from above, with the doubt of
 * their parts; the forms may happen to stand against each other and the plate be flatter. A plate that is read by the
 * machine that cut it proves parallelism with the travel, not flatness.
 *
 * Yield of head and holder goes in to first order; where it is most of the budget, read the simulated intervals of the
 * conditions besides.
 *
 * @throws MeasurementError `negative`
 * @example
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * const job = { name: "club plate", frame, travel: facing.area(mm(0), mm(520), mm(0), mm(230)), travelZ: { from: mm(-20), to: mm(200) }, plate: facing.area(mm(40), mm(480), mm(20), mm(220)), zero: { x: mm(40), y: mm(20) }, workOffset: "G54", cutter: { diameter: mm(50), teeth: 1, greatestSpeed: perMin(1200) }, speed: perMin(600), feedPerTooth: mm(0.1), feedDown: mmPerMin(100), stepOver: mm(25), runOut: mm(3), feedAlong: "x", rounds: [{ depth: mm(0.3) }, { depth: mm(0.5) }], floor: mm(-1), clearance: mm(5), retract: mm(50), spinUp: seconds(5), screws: [], margin: mm(0.5) };
 * const places = [0, 1, 2, 3].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 + 146 * i, yMm: 20 + 100 * j, zUm: 10 * i, count: 2 })));
 * const plateTop = { name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 1, degreesOfFreedom: 12 } };
 * const specificForce = facing.kienzle([{ chip: mm(0.1), force: MPa(600) }, { chip: mm(0.4), force: MPa(400) }]);
 * const yields = { by: input.rectangular({ label: "push test", estimate: um(6), halfWidth: um(1) }), under: newton(100) };
 * const conditions = facing.cuttingConditions({ job, plateTop, material: "aluminium 6061-T651", edge: "HSS", specificForce, motor: { power: kW(0.75), efficiency: 0.7 }, yields, rapid: mmPerMin(600), pause: minutes(3) });
 * facing.facedPlate({ conditions, texture: um(2), travelRepeatUpTo: um(2), heatUpTo: um(2), gauge: um(1) }).straightedgeText // => "unknown unless straightness and twist of the travel are surveyed with a level or a straightedge"
 */
export function facedPlate(given: FacedPlateInput): FacedPlate {
  checkGiven(given);
  const { conditions, texture, travelRepeatUpTo, heatUpTo, gauge, travel } = given;
  const { job, copied, deflection } = conditions.facts;
  const share = input.rectangular({
    label: "share of the deflection that differs over the plate",
    lower: plain(0),
    upper: plain(1),
  });
  const gaugeInput = input.normal({ label: "gauge of the survey after", estimate: um(0), standardUncertainty: gauge });
  const asThisMachineSees = budget({
    measurand: "faced plate as this machine will see it, at most",
    inputs: {
      texture,
      copied: copied.firstOrder,
      deflection: deflection.firstOrder,
      share,
      repeat: upTo("travel that does not repeat", travelRepeatUpTo),
      heat: upTo("change of temperature", heatUpTo),
      gauge: gaugeInput,
    },
    model: (x) => x.texture.plus(x.copied).plus(x.deflection.times(x.share)).plus(x.repeat).plus(x.heat).plus(x.gauge),
  });
  return new FacedPlate(job.name, asThisMachineSees, byStraightedge(asThisMachineSees, travel), {
    texture: estimateOf(texture),
    deflectionUpTo: Quantity.fromSi("length", copied.symmetric[1].si + deflection.symmetric[1].si),
    travelRepeatUpTo,
    heatUpTo,
    ...(travel ? { travelFlatness: estimateOf(travel.straightness).plus(estimateOf(travel.twist)) } : {}),
  });
}

function byStraightedge(seen: Budget<"length">, travel: FacedPlateInput["travel"]): Budget<"length"> | undefined {
  if (!travel) return undefined;
  return budget({
    measurand: "faced plate as a straightedge will see it, at most",
    inputs: { seen, ...travel },
    model: (x) => x.seen.plus(x.straightness).plus(x.twist),
  });
}

/** anything from none to so much, nothing likelier than another */
function upTo(label: string, most: Length): Input<"length"> {
  return input.rectangular({ label, lower: mm(0), upper: most });
}

function estimateOf(given: Length | Input<"length"> | Measured<"length">): Length {
  if (given instanceof Quantity) return given;
  return "estimate" in given ? given.estimate : given.value;
}

function checkGiven({ texture, travelRepeatUpTo, heatUpTo, gauge, travel }: FacedPlateInput): void {
  const named = { texture, travelRepeatUpTo, heatUpTo, gauge, ...travel };
  for (const [name, given] of Object.entries(named)) {
    const value = estimateOf(given);
    if (value.si >= 0) continue;
    throw new MeasurementError(
      "negative",
      `facing.facedPlate: ${name} is ${value.text("um")}; give a peak to valley of zero or more`,
    );
  }
}
