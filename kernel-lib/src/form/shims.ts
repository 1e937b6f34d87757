import { MeasurementError } from "../measurement-error.js";
import { leastSquares } from "../numerics/index.js";
import { display, type Length, type MimeBundle, Quantity, um } from "../quantity/index.js";
import type { Frame } from "../survey/index.js";
import { type AnyInput, Input, Measured, type Term } from "../uncertainty/index.js";
import { counted } from "../words.js";
import { FoilStacks } from "./foil-stacks.js";

/** What is shimmed; it is named on the sheet and decides which cautions matter. */
export type Shimmed = "head" | "column" | "vice" | "plate" | "table" | "feet";

/** A bolt, in the coordinates of the tilt. */
export interface Bolt {
  readonly label: string;
  readonly x: Length;
  readonly y: Length;
}

export interface ShimsGiven {
  readonly name: string;
  readonly what: Shimmed;
  /**
   * The tilt to be taken out. "lean": the top leans so far towards +X, +Y, as a tram says of head and column.
   * "slope": the top surface rises so much along +X, +Y, as a survey says of table, vice, plate and feet.
   */
  readonly tilt: { readonly as: "lean" | "slope"; readonly x: Measured<"slope">; readonly y: Measured<"slope"> };
  /** bolts of the joint in which the foils go */
  readonly bolts: readonly Bolt[];
  /** thicknesses of foil at hand, any number of each */
  readonly foils: readonly Length[];
  /** ± of the thickness of one foil; 2 µm where left out, common practice, no source */
  readonly foilWithin?: Length;
  /** most foils in one stack; 3 where left out */
  readonly most?: number;
  /** what a foil more must bring a stack nearer by; where left out, the standard uncertainty of the thickness wanted and of a foil */
  readonly worth?: Length;
  /** which way the bolts lie for the operator; FRONT at y−, +X right where left out */
  readonly frame?: Frame;
}

const thinLimit = um(2);

/** What goes under one bolt. */
export interface ShimStack extends Bolt {
  /** thickness that would take the tilt out; none at the lowest bolt */
  readonly wanted: Length;
  /** the stack chosen: foils, thickest first; none where nothing goes in */
  readonly foils: readonly Length[];
  readonly thickness: Length;
}

/** Shims at the bolts and the tilt that remains. Made by `shims`. */
export class ShimSheet {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;

  /** @internal made by `shims` */
  constructor(
    readonly given: ShimsGiven,
    readonly stacks: readonly ShimStack[],
    /** in the sense of what was given */
    readonly remaining: { readonly x: Measured<"slope">; readonly y: Measured<"slope"> },
    /** how far the stacks stand off one plane: more than a few µm and the joint rocks or bends */
    readonly rock: Length,
  ) {
    Object.freeze(this);
  }

  /** foils laid in all */
  get foilCount(): number {
    return this.stacks.reduce((sum, { foils }) => sum + foils.length, 0);
  }

  /** one line for each bolt, as the sheet prints it */
  get rows(): readonly (readonly [bolt: string, thickness: string, foils: string])[] {
    return this.stacks.map(({ label, thickness, foils }) => [
      label,
      mmText(thickness),
      foils.length > 0 ? foils.map(mmText).join(" + ") : "none",
    ]);
  }

  toString(): string {
    const { given, rows, remaining, rock } = this;
    const list = rows.map(([bolt, thickness]) => `bolt ${bolt} ${thickness}`).join(", ");
    return `shims under the ${given.what}, ${given.name}: ${list}; ${foilCount(this.foilCount)}; ${given.tilt.as} that remains along X ${remaining.x}, along Y ${remaining.y}; the stacks stand ${rock.in("um").toFixed(1)} µm off one plane; read the cautions of the sheet before a bolt is loosened`;
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * Thickness of foil at each bolt that takes a tilt out of a joint, in stacks of the foils at hand, and the tilt that remains.
 *
 * A part that leans is raised on the side it leans to, one that slopes on its low side. Nothing goes under the bolt that needs
 * least. At the others lie as few foils as will do: one more only where it brings the stack nearer to the thickness wanted by
 * more than that is known (`worth`). What remains holds the tilt's own uncertainty and that of every foil. Bolt places count
 * from anywhere; only their distances matter.
 *
 * @throws MeasurementError `bolts`, `foils`, `worth`, `too-thick`
 * @example
 * const known = (value, label) => Measured.from(input.normal({ label, estimate: umPerM(value), standardUncertainty: umPerM(5) }));
 * const bolt = (label, x, y) => ({ label, x: mm(x), y: mm(y) });
 * const sheet = form.shims({ name: "re-tram", what: "column", tilt: { as: "lean", x: known(0, "x"), y: known(200, "y") }, bolts: [bolt("1", 0, 0), bolt("2", 200, 0), bolt("3", 200, 250), bolt("4", 0, 250)], foils: [um(20), um(50)] });
 * sheet.rows.map((row) => row[1]).join() // => "none,none,0.05 mm,0.05 mm"
 */
export function shims(given: ShimsGiven): ShimSheet {
  checkBolts(given);
  const { bolts, tilt, foilWithin = thinLimit } = given;
  const sign = tilt.as === "lean" ? 1 : -1;
  const raise = bolts.map(({ x, y }) => sign * (tilt.x.value.si * x.in("um") + tilt.y.value.si * y.in("um")));
  const lowest = raise.indexOf(Math.min(...raise));
  const wanted = raise.map((h) => h - raise[lowest]!);
  const reach = new FoilStacks(given.foils, given.most ?? 3);
  if (!(Math.max(...wanted) <= reach.thickestUm + reach.finestUm)) {
    refuse(
      "too-thick",
      `${given.name} asks for ${(Math.max(...wanted) / 1000).toFixed(2)} mm at one bolt and the thickest stack is ${(reach.thickestUm / 1000).toFixed(2)} mm; get thicker foil or allow more in a stack, and look again at the tilt`,
    );
  }
  const columns = [bolts.map(() => 1), bolts.map(({ x }) => x.in("m")), bolts.map(({ y }) => y.in("m"))];
  const stacks = wanted.map((h, i): ShimStack => {
    const { foilsUm, thicknessUm } = reach.fewest(h, worthUm(given, bolts[i]!, bolts[lowest]!));
    return { ...bolts[i]!, wanted: um(h), foils: foilsUm.map((t) => um(t)), thickness: um(thicknessUm) };
  });
  const fit = leastSquares(
    columns,
    stacks.map(({ thickness }) => thickness.in("um")),
  );
  const terms = foilTerms(stacks, foilWithin, columns, fit.covarianceFactor);
  const remaining = (row: 1 | 2, asked: Measured<"slope">) =>
    asked.minus(Measured.of(Quantity.fromSi("slope", sign * fit.coefficients[row]! * 1e-6), terms(row, sign)));
  const off = fit.residuals;
  return new ShimSheet(
    given,
    stacks,
    { x: remaining(1, tilt.x), y: remaining(2, tilt.y) },
    um(Math.max(...off) - Math.min(...off)),
  );
}

/** what a foil at a bolt must gain, µm: as well as the thickness wanted there and that of a foil are known */
function worthUm({ worth, tilt, foilWithin = thinLimit }: ShimsGiven, bolt: Bolt, lowest: Bolt): number {
  if (worth !== undefined) return worth.in("um");
  const along = (slope: Measured<"slope">, reach: number): Term[] =>
    slope.terms.map(({ input, sensitivity }) => ({ input, sensitivity: sensitivity * reach }));
  const terms = [...along(tilt.x, bolt.x.si - lowest.x.si), ...along(tilt.y, bolt.y.si - lowest.y.si)];
  const wanted = Measured.of(um(0), terms).standardUncertainty.in("um");
  return Math.hypot(wanted, foilWithin.in("um") / Math.sqrt(3));
}

/** terms of a slope of the stacks from the thickness of every foil in them */
function foilTerms(
  stacks: readonly ShimStack[],
  within: Length,
  columns: readonly (readonly number[])[],
  c: readonly (readonly number[])[],
): (row: 1 | 2, sign: number) => Term[] {
  const foils = stacks.flatMap((stack, i) => stack.foils.map((_, k) => ({ i, input: foilInput(stack, k, within) })));
  return (row, sign) =>
    foils.map(({ i, input }) => ({
      input,
      sensitivity: sign * columns.reduce((s, column, j) => s + c[row]![j]! * column[i]!, 0),
    }));
}

function foilInput({ label }: ShimStack, k: number, within: Length): AnyInput {
  return new Input({
    label: `foil ${k + 1} at bolt ${label}`,
    estimate: um(0),
    standardUncertainty: within.over(Math.sqrt(3)),
    distribution: "rectangular",
    degreesOfFreedom: Number.POSITIVE_INFINITY,
    evaluation: "B",
    source: "thickness of foil, rectangular",
  });
}

function checkBolts({ name, bolts, worth }: ShimsGiven): void {
  if (worth !== undefined && !(worth.si >= 0)) {
    refuse("worth", `a foil of ${name} must gain ${worth}; give zero or more, or leave it out`);
  }
  if (!(bolts.length >= 3)) {
    refuse(
      "bolts",
      `${name} has ${counted(bolts.length, "bolt")}; a tilt both ways takes three at least, off one line`,
    );
  }
  const [x, y] = [bolts.map((b) => b.x.si), bolts.map((b) => b.y.si)];
  const mean = (v: readonly number[]) => v.reduce((s, a) => s + a, 0) / v.length;
  const [mx, my] = [mean(x), mean(y)];
  const sum = (f: (dx: number, dy: number) => number) => x.reduce((s, v, i) => s + f(v - mx, y[i]! - my), 0);
  const [xx, yy, xy] = [sum((a) => a * a), sum((_, b) => b * b), sum((a, b) => a * b)];
  if (xx * yy - xy * xy > 1e-6 * (xx + yy) ** 2) return;
  refuse(
    "bolts",
    `the ${bolts.length} bolts of ${name} lie on one line; give one beside it, or shim the tilt along the line only by hand`,
  );
}

function foilCount(count: number): string {
  return count === 1 ? "1 foil in all" : `${count} foils in all`;
}

/** "0.05 mm" */
function mmText(length: Length): string {
  return length.si === 0 ? "none" : `${Number(length.in("mm").toFixed(3))} mm`;
}

function refuse(code: string, words: string): never {
  throw new MeasurementError(code, `shims: ${words}`);
}
