import { MeasurementError } from "../measurement-error.js";
import { type Kind, Quantity } from "../quantity/index.js";
import { withArticle } from "../words.js";
import { type Arguments, type Given, opened } from "./given.js";
import type { AnyInput } from "./input.js";
import { type InputForm, type NamedInput, Place, viewOf } from "./trial-view.js";
import type { TrialModel } from "./trials.js";

/** one output of a model as a plain function: SI shifts of the inputs from their estimates in, SI value out */
export type Shifted = (shifts: ArrayLike<number>) => number;

/** gives each input as a quantity */
function asQuantity({ value: { kind, si: start } }: NamedInput): InputForm {
  return { start, scale: 1, kind };
}

/** A model whose inputs are opened down to the independent ones: earlier results move with their own inputs, by the
 * chain rule. `V` is what the model is called with: quantities under their names, or numbers. */
export class Evaluation<I extends { readonly [name: string]: Given }, O, V = Arguments<I>> {
  /** the independent inputs, each once; a shift a place */
  readonly bases: readonly AnyInput[];
  private readonly place: Place;
  private readonly view: V;

  /** @throws MeasurementError `budget` for what is no input */
  constructor(
    private readonly where: string,
    inputs: I,
    private readonly model: (view: V) => O,
    form: (input: NamedInput) => InputForm = asQuantity,
  ) {
    const names = Object.entries(inputs).map(([name, given]) => ({ name, ...opened(where, name, given) }));
    this.bases = [...new Set(names.flatMap(({ terms }) => terms.map(({ input }) => input)))];
    const rows = new Map(this.bases.map((input, k) => [input, k]));
    const named = names.map((entry) => ({ ...entry, places: entry.terms.map(({ input }) => rows.get(input)!) }));
    this.place = new Place(Object.keys(inputs));
    this.view = viewOf(named, form, this.place) as V;
  }

  /**
   * What the model gives when every input is moved.
   *
   * @param pick takes what is wanted of the output
   * @throws MeasurementError what the model refuses, with the inputs that were moved; the code is the model's
   */
  at<R>(shifts: ArrayLike<number>, pick: (output: O) => R): R {
    const { place, model } = this;
    place.shifts = shifts instanceof Float64Array ? shifts : Float64Array.from(shifts);
    place.size = 1;
    place.at = 0;
    try {
      return pick(model(this.view));
    } catch (error) {
      throw this.refused(error);
    }
  }

  /** One output over many trials. @throws MeasurementError as `at` does */
  overTrials(si: (output: O) => number): TrialModel {
    const { place, model, view } = this;
    return (shifts, size, out) => {
      place.shifts = shifts;
      place.size = size;
      try {
        for (let at = 0; at < out.length; at++) {
          place.at = at;
          out[at] = si(model(view));
        }
      } catch (error) {
        throw this.refused(error);
      }
    };
  }

  /** @throws MeasurementError `input-unused` when the model, in all its runs so far, never read one of the inputs */
  checkAllRead(): void {
    const [name] = this.place.unread ?? [];
    if (name === undefined) return;
    throw new MeasurementError(
      "input-unused",
      `${this.where}: the model never uses the input "${name}"; use it, or leave it out of the inputs`,
    );
  }

  /** what the model refused, with the inputs of the trial in hand */
  private refused(error: unknown): unknown {
    if (!(error instanceof MeasurementError)) return error;
    const where = this.offEstimates(this.place.own());
    return new MeasurementError(error.code, `${this.where}: ${where} the model refuses (${error.message})`);
  }

  /** "with every input at its estimate" or which are not */
  private offEstimates(shifts: ArrayLike<number>): string {
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
    `${where}: the model gives ${withArticle((output as Quantity<Kind>).kind)} where it gave ${withArticle(kind)} before; let it end in one kind`,
  );
}
