import { MeasurementError } from "../measurement-error.js";
import { type Kind, Quantity } from "../quantity/index.js";
import { type Arguments, type Given, opened } from "./given.js";
import type { AnyInput } from "./input.js";
import { type NamedInput, overTrials } from "./trial-view.js";
import type { TrialModel } from "./trials.js";

/** one output of a model as a plain function: SI shifts of the inputs from their estimates in, SI value out */
export type Shifted = (shifts: ArrayLike<number>) => number;

/** A model whose inputs are opened down to the independent ones: earlier results move with their own inputs, by the
 * chain rule. */
export class Evaluation<I extends { readonly [name: string]: Given }, O> {
  /** the independent inputs, each once; a shift a place */
  readonly bases: readonly AnyInput[];
  /** @internal the inputs under the names the model knows */
  readonly names: readonly NamedInput[];
  private unread: Set<string>;

  /** @throws MeasurementError `budget` for what is no input */
  constructor(
    private readonly where: string,
    inputs: I,
    private readonly model: (inputs: Arguments<I>) => O,
  ) {
    const names = Object.entries(inputs).map(([name, given]) => ({ name, ...opened(where, name, given) }));
    this.bases = [...new Set(names.flatMap(({ terms }) => terms.map(({ input }) => input)))];
    const place = new Map(this.bases.map((input, k) => [input, k]));
    this.names = names.map((entry) => ({ ...entry, places: entry.terms.map(({ input }) => place.get(input)!) }));
    this.unread = new Set(Object.keys(inputs));
  }

  /**
   * What the model gives when every input is moved.
   *
   * @throws MeasurementError what the model refuses, with the inputs that were moved; the code is the model's
   */
  at(shifts: ArrayLike<number>): O {
    try {
      return this.model(this.moved(shifts));
    } catch (error) {
      if (!(error instanceof MeasurementError)) throw error;
      throw new MeasurementError(
        error.code,
        `${this.where}: ${this.place(shifts)} the model refuses (${error.message})`,
      );
    }
  }

  /** One output over many trials. @throws MeasurementError as `at` does */
  overTrials(si: (output: O) => number): TrialModel {
    const { model } = this;
    return overTrials<Arguments<I>>(
      { names: this.names, count: this.bases.length },
      ({ value: { kind, si: start } }) => ({ start, scale: 1, make: (value) => Quantity.fromSi(kind, value) }),
      (view) => si(model(view)),
      (shifts) => si(this.at(shifts)),
    );
  }

  /** @throws MeasurementError `input-unused` when the model, in all its runs so far, never read one of the inputs */
  checkAllRead(): void {
    const [name] = this.unread;
    if (name === undefined) return;
    throw new MeasurementError(
      "input-unused",
      `${this.where}: the model never uses the input "${name}"; use it, or leave it out of the inputs`,
    );
  }

  private moved(shifts: ArrayLike<number>): Arguments<I> {
    const moved: { [name: string]: Quantity<Kind> } = {};
    for (const { name, value, terms, places } of this.names) {
      let si = value.si;
      for (let k = 0; k < terms.length; k++) si += terms[k]!.sensitivity * shifts[places[k]!]!;
      const quantity = Quantity.fromSi(value.kind, si);
      if (this.unread.has(name)) this.watch(moved, name, quantity);
      else moved[name] = quantity;
    }
    return moved as Arguments<I>;
  }

  private watch(moved: object, name: string, quantity: Quantity<Kind>): void {
    Object.defineProperty(moved, name, {
      enumerable: true,
      get: () => {
        this.unread.delete(name);
        return quantity;
      },
    });
  }

  /** "with every input at its estimate" or which are not */
  private place(shifts: ArrayLike<number>): string {
    const off = this.bases.flatMap((input, k) => (shifts[k] ? [this.offText(input, shifts[k])] : []));
    return off.length === 0 ? "with every input at its estimate" : `with ${off.join(" and ")}`;
  }

  private offText({ label, estimate, uncertaintySi }: AnyInput, shift: number): string {
    const times = shift / uncertaintySi;
    const way = times < 0 ? "below" : "above";
    const size = Math.abs(times) === 1 ? "u" : `${Number(Math.abs(times).toPrecision(2))} u`;
    return `"${label}" at ${Quantity.fromSi(estimate.kind, estimate.si + shift)} (${size} ${way} its estimate)`;
  }
}

/**
 * The output of a model as a quantity of the kind it had before.
 *
 * @throws MeasurementError `budget`
 */
export function needQuantity<K extends Kind>(where: string, output: Quantity<K>, kind?: K): Quantity<K> {
  if (!(output instanceof Quantity)) {
    throw new MeasurementError(
      "budget",
      `${where}: the model gives ${String(output)}, not a quantity; end it with a value that has a unit`,
    );
  }
  if (kind === undefined || output.kind === kind) return output;
  throw new MeasurementError(
    "budget",
    `${where}: the model gives a ${(output as Quantity<Kind>).kind} where it gave a ${kind} before; let it end in one kind`,
  );
}
