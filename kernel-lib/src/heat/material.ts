import { MeasurementError } from "../measurement-error.js";
import { display, GPa, type MimeBundle, perKelvin, type Quantity } from "../quantity/index.js";
import { type Given, Input, input, Measured } from "../uncertainty/index.js";
import { withArticle } from "../words.js";
import { type MaterialRow, materialRows } from "./material-rows.js";

/** A value that may carry its uncertainty: exact, an input, or an earlier result. */
export type Known<K extends "length" | "temperature" | "temperature difference" | "force" | "number" | "time"> =
  | Quantity<K>
  | Input<K>
  | Measured<K>;

/** One piece of a material: how much it grows, and how stiff it is. */
export class Material {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by `material` and `ownMaterial` */
  constructor(
    readonly name: string,
    readonly expansion: Input<"expansion coefficient">,
    /** modulus of elasticity; missing where the table has none */
    readonly modulus: Input<"pressure"> | undefined,
  ) {
    Object.freeze(this);
  }

  /** The expansion coefficient with its limits, the modulus, and where the figures come from. */
  toString(): string {
    const { estimate, standardUncertainty, source } = this.expansion;
    const stiffness = this.modulus ? `; E ${this.modulus.estimate.in("GPa").toFixed(0)} GPa` : "";
    const [alpha, u] = [estimate, standardUncertainty].map((value) => value.in("um/(m.K)").toFixed(2));
    return `${this.name}: expansion ${alpha} µm/(m·K), u ${u} µm/(m·K) (${source})${stiffness}`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * A piece of one of the materials of the table. Each call is another piece: two pieces of steel need not grow alike, so
 * take one object for what is one piece of stock, and call twice for two.
 *
 * @throws MeasurementError `material` for a name that is not in the table
 * @see `heat.materials()` for the names, the limits and their sources
 * @example
 * heat.material("grey iron").expansion.estimate.text() // => "11 µm/(m·K)"
 */
export function material(name: string): Material {
  const row = materialRows.find((one) => one.name === name);
  if (!row) {
    throw new MeasurementError(
      "material",
      `material: "${name}" is not in the table; take one of ${materialRows.map((one) => one.name).join(", ")}, or state its figures with ownMaterial`,
    );
  }
  return new Material(row.name, expansionOf(row), modulusOf(row));
}

/** A material of your own: a bar with a certificate, an alloy that the table lacks.
 *
 * @throws MeasurementError `material` for an expansion coefficient that is no input
 * @example
 * heat.ownMaterial({
 *   name: "straightedge",
 *   expansion: input.normal({ label: "α of the straightedge", estimate: perKelvin(10.2e-6), standardUncertainty: perKelvin(0.2e-6) }),
 * }).name // => "straightedge" */
export function ownMaterial(spec: {
  readonly name: string;
  readonly expansion: Input<"expansion coefficient">;
  readonly modulus?: Input<"pressure">;
}): Material {
  if (!(spec.expansion instanceof Input && spec.expansion.estimate.kind === "expansion coefficient")) {
    throw new MeasurementError(
      "material",
      `ownMaterial "${spec.name}": its expansion is ${String(spec.expansion)}; give an input, such as input.rectangular of perKelvin(11e-6) with its half-width`,
    );
  }
  return new Material(spec.name, spec.expansion, spec.modulus);
}

/** @internal the value without its uncertainty */
export function withoutDoubt<K extends "length" | "temperature" | "temperature difference">(
  given: Known<K>,
): Quantity<K> {
  return given instanceof Input ? given.estimate : given instanceof Measured ? given.value : given;
}

/** @internal refuses a known value of another kind, and one that is not greater than zero where it has to be */
export function needKnown(where: string, name: string, given: Given, kind: string, positive = false): void {
  const value = given instanceof Input ? given.estimate : given instanceof Measured ? given.value : given;
  const right = (value as Quantity<"length"> | undefined)?.kind === kind;
  if (right && (!positive || (value as Quantity<"length">).si > 0)) return;
  const article = kind === "temperature" ? "a temperature, a point on the scale such as degC(20)" : withArticle(kind);
  throw new MeasurementError(
    "heat-value",
    `${where}: ${name} is ${String(given)}; give ${article}${positive ? " greater than zero" : ""}`,
  );
}

function expansionOf({ name, expansion, halfWidth, source }: MaterialRow): Input<"expansion coefficient"> {
  return input.rectangular({
    label: `expansion of ${name}`,
    estimate: perKelvin(expansion * 1e-6),
    halfWidth: perKelvin(halfWidth * 1e-6),
    source,
  });
}

function modulusOf({ name, modulus, source }: MaterialRow): Input<"pressure"> | undefined {
  if (!modulus) return undefined;
  const [lower, upper] = modulus;
  return input.rectangular({ label: `modulus of ${name}`, lower: GPa(lower), upper: GPa(upper), source });
}
