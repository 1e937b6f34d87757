import { MeasurementError } from "../measurement-error.js";
import { normalQuantile } from "../numerics/index.js";
import { type Difference, display, type Kind, type MimeBundle, Quantity, type UnitSystem } from "../quantity/index.js";
import { printTwoDigits } from "../quantity/print.js";
import { withCaveats } from "../uncertainty/caveat.js";
import type { Measured } from "../uncertainty/index.js";
import { checkTolerance, type Tolerance, toleranceText } from "./tolerance.js";

/** Which measured values are accepted: those within the limits, within them less a guard, or not proven beyond them. */
export type AcceptanceRule = "simple acceptance" | "guarded acceptance" | "guarded rejection";

/** where the acceptance limits lie: by so many guards inside the tolerance */
const inward: { readonly [R in AcceptanceRule]: number } = {
  "simple acceptance": 0,
  "guarded acceptance": 1,
  "guarded rejection": -1,
};

const meaning: { readonly [R in AcceptanceRule]: string } = {
  "simple acceptance":
    "simple acceptance: the measured value itself within the tolerance, the risk shared (JCGM 106, 8.2)",
  "guarded acceptance": "guarded acceptance: conformity is to be proven (ISO 14253-1; JCGM 106, 8.3.2)",
  "guarded rejection": "guarded rejection: non-conformity is to be proven (ISO 14253-1; JCGM 106, 8.3.3)",
};

/** What one decision rule says of one measured value. */
export class Acceptance<K extends Kind> {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by `acceptance` */
  constructor(
    readonly measured: Measured<K>,
    readonly tolerance: Tolerance<K>,
    readonly rule: AcceptanceRule,
    /** guard factor × u; 0 for simple acceptance */
    readonly guard: Quantity<Difference<K>>,
    readonly isAccepted: boolean,
  ) {
    Object.freeze(this);
  }

  /** "accepted" or "not accepted", value, limits, rule and guard. */
  sentence(system?: UnitSystem): string {
    const { measured, tolerance, rule } = this;
    const guard = this.guard as Quantity<Kind>;
    const guardText = guard.si > 0 ? `, guard ${printTwoDigits(guard, system)}` : "";
    const sentence = `${this.isAccepted ? "accepted" : "not accepted"}: ${measured.text(system)} against ${toleranceText(tolerance, system)} (${tolerance.source ?? "source not stated"}); ${meaning[rule]}${guardText}`;
    return withCaveats(sentence, measured.caveats);
  }

  toString(): string {
    return this.sentence();
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * A decision with two outcomes by the rule agreed beforehand: simple acceptance, guarded acceptance (the maker proves) or
 * guarded rejection (the buyer proves). `verdict` gives all three outcomes at once.
 *
 * @param rule the guard is the normal quantile of `level` × u: 1.6449 u for 95 %
 * @param options `level` other than 0.95, where both sides agreed on it
 * @throws MeasurementError `tolerance`, `rule`, `probability`, `guard` when the guards leave nothing of the tolerance
 * @see ISO 14253-1:2017 (from memory); JCGM 106:2012, clause 8
 * @example
 * const flat = Measured.from(input.normal({ label: "flatness", estimate: um(18), standardUncertainty: um(2) }));
 * [conformity.acceptance(flat, { upper: um(20) }, "simple acceptance").isAccepted, conformity.acceptance(flat, { upper: um(20) }, "guarded acceptance").isAccepted].join() // => "true,false"
 */
export function acceptance<K extends Kind>(
  measured: Measured<K>,
  tolerance: Tolerance<K>,
  rule: AcceptanceRule,
  options: { readonly level?: number } = {},
): Acceptance<K> {
  checkTolerance("acceptance", measured, tolerance);
  const u = measured.standardUncertainty as Quantity<Kind>;
  const [low, high, guard] = acceptanceLimits("acceptance", tolerance, rule, u.si, options.level);
  const y = measured.value.si;
  const guardQuantity = Quantity.fromSi(u.kind, guard) as Quantity<Kind> as Quantity<Difference<K>>;
  return new Acceptance(measured, tolerance, rule, guardQuantity, y >= low && y <= high);
}

/** Acceptance limits and guard in SI; an absent limit is infinite. */
export function acceptanceLimits<K extends Kind>(
  where: string,
  { lower, upper }: Tolerance<K>,
  rule: AcceptanceRule,
  u: number,
  level = 0.95,
): readonly [low: number, high: number, guard: number] {
  if (!Object.hasOwn(inward, rule)) {
    throw new MeasurementError(
      "rule",
      `${where}: "${String(rule)}" is no decision rule; use ${Object.keys(inward).join(", ")}`,
    );
  }
  const guard = rule === "simple acceptance" ? 0 : normalQuantile(level) * u;
  const low = (lower?.si ?? Number.NEGATIVE_INFINITY) + inward[rule] * guard;
  const high = (upper?.si ?? Number.POSITIVE_INFINITY) - inward[rule] * guard;
  if (low <= high) return [low, high, guard];
  throw new MeasurementError(
    "guard",
    `${where}: guards of ${Quantity.fromSi(upper!.kind, guard)} leave nothing between ${lower} and ${upper}; no value could be accepted, measure with a smaller uncertainty`,
  );
}
