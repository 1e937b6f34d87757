import { MeasurementError } from "../measurement-error.js";
import { withArticle } from "../words.js";
import { display, type MimeBundle } from "./display-member.js";
import { inUnit, type Kind, type Unit, type UnitNames, type UnitSystem, units } from "./kinds.js";
import { parseQuantity } from "./parse.js";
import { printQuantity, printToUncertainty } from "./print.js";
import {
  type Added,
  type Difference,
  type Product,
  type Products,
  productRows,
  type Quotient,
  type Quotients,
  quotientRows,
  type Scalar,
} from "./products.js";

declare const kindOf: unique symbol;

/**
 * A value with its kind: a length, a temperature, a torque. Held in SI, read in any unit of its kind.
 *
 * Kinds are types: adding a length to a temperature, or giving a bare number where a length is needed, does not
 * compile. Millimetres and inches are one kind and mix freely. A quantity never holds NaN or infinity.
 *
 * @example
 * mm(1).plus(um(5)).in("mm") // => 1.005
 * @example
 * `${mm(500).times(perKelvin(11.5e-6).times(kelvin(10)))}` // => "57.5 µm"
 */
export class Quantity<K extends Kind> {
  /** attached by the display folder when the package loads; absent on a bare import of this file */
  declare readonly [display]: () => MimeBundle;
  declare readonly [kindOf]: { readonly kind: K };

  private constructor(
    readonly kind: K,
    /** the value in the SI unit of its kind: metre, kelvin, newton, pascal, radian … */
    readonly si: number,
  ) {}

  /** A value in SI units; the unit functions (`mm`, `degC`, …) are the usual way in. */
  static fromSi<K extends Kind>(kind: K, si: number): Quantity<K> {
    if (!Number.isFinite(si)) {
      throw new MeasurementError("not-finite", `${kind}: ${si} is not a value; give a finite number`);
    }
    return new Quantity(kind, si);
  }

  /** The number in the unit named. @example um(12).in("mm") // => 0.012 */
  in(unit: UnitNames[K]): number {
    return inUnit(unitOf(this.kind, unit), this.si);
  }

  /** Sum. A temperature takes a temperature difference. @example `${degC(20).plus(kelvin(2))}` // => "22 °C" */
  plus(other: Quantity<Added<K>>): Quantity<K> {
    needKind(this, "plus", other, added(this.kind));
    return Quantity.fromSi(this.kind, this.si + other.si);
  }

  /** Difference. Two temperatures give a temperature difference. @example degC(22).minus(degC(20)).in("K") // => 2 */
  minus<O extends K | Added<K>>(other: Quantity<O>): Quantity<O extends K ? Difference<K> : K> {
    const same = (other as Quantity<Kind>).kind === this.kind;
    needKind(this, "minus", other, same ? this.kind : added(this.kind));
    const kind = same ? added(this.kind) : this.kind;
    return Quantity.fromSi(kind, this.si - other.si) as Quantity<O extends K ? Difference<K> : K>;
  }

  /** Product with a plain number or with another quantity: length × length is an area, force × length a torque.
   * @example kN(2).times(mm(100)).in("N.m") // => 200 */
  times<O extends keyof Products[K] & Kind = "number" & keyof Products[K] & Kind>(
    other: Quantity<O> | Scalar<K>,
  ): Quantity<Product<K, O>> {
    const kind = kindWith(this, "times", other, productRows);
    return Quantity.fromSi(kind, this.si * siOf(other)) as Quantity<Product<K, O>>;
  }

  /** Quotient by a plain number or by another quantity: length / length is a number.
   * @example mm(300).over(mm(150)).in("1") // => 2 */
  over<O extends keyof Quotients[K] & Kind = "number" & keyof Quotients[K] & Kind>(
    other: Quantity<O> | Scalar<K>,
  ): Quantity<Quotient<K, O>> {
    const kind = kindWith(this, "over", other, quotientRows);
    return Quantity.fromSi(kind, this.si / siOf(other)) as Quantity<Quotient<K, O>>;
  }

  /** Without its sign. A temperature has no size to speak of and is refused. */
  abs(): Quantity<K> {
    needScale(this, "abs");
    return Quantity.fromSi(this.kind, Math.abs(this.si));
  }

  /** With the sign turned round. */
  negated(): Quantity<K> {
    needScale(this, "negated");
    return Quantity.fromSi(this.kind, -this.si);
  }

  isLess(other: Quantity<K>): boolean {
    needKind(this, "isLess", other, this.kind);
    return this.si < other.si;
  }

  isGreater(other: Quantity<K>): boolean {
    needKind(this, "isGreater", other, this.kind);
    return this.si > other.si;
  }

  /** The same value to the last bit; for "near enough" compare the difference with an uncertainty. */
  equals(other: Quantity<K>): boolean {
    needKind(this, "equals", other, this.kind);
    return this.si === other.si;
  }

  /** Text in the unit named, or in the one that suits the size; `"inch"` picks it among inch, °F and pound-force units.
   * @example um(12.34).text("mm") // => "0.01234 mm"
   * @example um(12.7).text("inch") // => "5 tenth" */
  text(unit?: UnitNames[K] | UnitSystem): string {
    return printQuantity(this.kind, this.si, unit);
  }

  /**
   * Text to the digits that a standard uncertainty allows: to the place of its second digit.
   *
   * @throws MeasurementError `kind-mismatch`, `uncertainty`
   * @example um(23.0412).textTo(um(4.1)) // => "23.0 µm"
   */
  textTo(standardUncertainty: Quantity<Difference<K>>, unit?: UnitNames[K] | UnitSystem): string {
    const u = standardUncertainty as Quantity<Kind>;
    needKind(this, "textTo", u, added(this.kind));
    if (u.si > 0) return printToUncertainty(this.kind, this.si, u.si, unit);
    throw new MeasurementError(
      "uncertainty",
      `textTo: the standard uncertainty is ${u}; give one greater than zero, or use text for an exact value`,
    );
  }

  toString(): string {
    return this.text();
  }

  toJSON(): { kind: K; si: number } {
    return { kind: this.kind, si: this.si };
  }

  [Symbol.toPrimitive](hint: string): string {
    if (hint === "string") return this.text();
    throw new MeasurementError(
      "operator",
      `${this.text()} is ${withArticle(this.kind)}, not a bare number; use .plus, .minus, .times, .over, .isLess or .in(unit)`,
    );
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.text();
  }

  /** Reads `"0.0005 in"`, `"12 µm"`, `"-3,5 µm"`. @example Quantity.parse("length", "-3,5 µm").in("um") // => -3.5 */
  static parse<K extends Kind>(kind: K, text: string): Quantity<K> {
    return Quantity.fromSi(kind, parseQuantity(kind, text));
  }
}

/** A length, held in metres; made by `mm(…)`, `um(…)`, `thou(…)` and read by `.in("um")`. */
export type Length = Quantity<"length">;
export type Area = Quantity<"area">;
export type Volume = Quantity<"volume">;
export type Angle = Quantity<"angle">;
/** A small inclination, rise over run, read in µm/m (the same thing as µrad), arc-seconds or mm per 300 mm. */
export type Slope = Quantity<"slope">;
/** A point on the temperature scale; the difference of two is a `TemperatureDifference`. */
export type Temperature = Quantity<"temperature">;
export type TemperatureDifference = Quantity<"temperature difference">;
export type Time = Quantity<"time">;
export type Force = Quantity<"force">;
export type Torque = Quantity<"torque">;
export type Power = Quantity<"power">;
export type Pressure = Quantity<"pressure">;
export type CuttingSpeed = Quantity<"cutting speed">;
export type Feed = Quantity<"feed">;
export type RotationalSpeed = Quantity<"rotational speed">;
export type ExpansionCoefficient = Quantity<"expansion coefficient">;
export type ThermalDrift = Quantity<"thermal drift">;
export type Mass = Quantity<"mass">;
export type Density = Quantity<"density">;
export type PlainNumber = Quantity<"number">;

function unitOf(kind: Kind, unit: string): Unit {
  const row: { readonly [name: string]: Unit } = units[kind];
  const found = Object.hasOwn(row, unit) ? row[unit] : undefined;
  if (found) return found;
  throw new MeasurementError(
    "unknown-unit",
    `${kind}: "${unit}" is not one of its units; use ${Object.keys(row).join(", ")}`,
  );
}

function added(kind: Kind): Kind {
  return kind === "temperature" ? "temperature difference" : kind;
}

function needKind(self: Quantity<Kind>, act: string, other: unknown, kind: Kind): void {
  if (other instanceof Quantity && other.kind === kind) return;
  const given =
    other instanceof Quantity ? `${other.text()}, ${withArticle(other.kind)},` : `${String(other)}, which has no unit,`;
  throw new MeasurementError(
    "kind-mismatch",
    `${act}: ${given} was given to the ${self.kind} ${self.text()}; give ${withArticle(kind)}`,
  );
}

function needScale(self: Quantity<Kind>, act: string): void {
  if (self.kind !== "temperature") return;
  throw new MeasurementError(
    "kind-mismatch",
    `${act}: ${self.text()} is a point on a scale; take a difference of two first`,
  );
}

function siOf(value: Quantity<Kind> | number): number {
  return typeof value === "number" ? value : value.si;
}

/** the kind of a product or quotient */
function kindWith(self: Quantity<Kind>, act: "times" | "over", other: unknown, rows: typeof productRows): Kind {
  needScale(self, act);
  if (typeof other === "number") return self.kind;
  if (!(other instanceof Quantity)) {
    throw new MeasurementError(
      "kind-mismatch",
      `${act}: ${String(other)} is neither a number nor a quantity; give one of them`,
    );
  }
  const kind = resultKind(self.kind, act, other.kind, rows);
  if (kind) return kind;
  throw new MeasurementError(
    "kind-mismatch",
    `${act}: ${withArticle(self.kind)} ${act} ${withArticle(other.kind)} has no meaning here; check which two values were meant`,
  );
}

function resultKind(a: Kind, act: "times" | "over", b: Kind, rows: typeof productRows): Kind | undefined {
  if (b === "temperature") return undefined;
  if (b === "number") return a;
  if (act === "times" && a === "number") return b;
  if (act === "over" && a === b) return "number";
  return rows[a]?.[b];
}
