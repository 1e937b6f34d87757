import type { AnyMeasured } from "./measured.js";
import type { TrialModel } from "./trials.js";

/** An input of a model by its name, opened down to the independent ones: places are rows of a table of shifts. */
export interface NamedInput extends AnyMeasured {
  readonly name: string;
  readonly places: readonly number[];
}

/** how a value is scaled from SI into what the model is given */
export interface InputForm<T> {
  /** the value at the estimates */
  readonly start: number;
  /** times a shift in SI */
  readonly scale: number;
  /** what the model is given; the number itself where left out */
  readonly make?: (value: number) => T;
}

/** The trial that a model is just being evaluated for. */
interface Place {
  at: number;
}

/** shifts of one independent input, in the table that is just being worked through */
interface Column {
  shifts: Float64Array;
}

/**
 * A model over many trials. What the model is called with is one object whose members read the trial in hand when the
 * model asks for them: nothing is stored for a trial, and what the model does not use costs nothing.
 *
 * @param count of independent inputs
 * @param form how each input is given
 * @param run the model on that object, in SI; a result that is no finite number goes to `explain`
 * @param explain throws what is wrong with a trial, its shifts given
 */
export function overTrials<V>(
  { names, count }: { readonly names: readonly NamedInput[]; readonly count: number },
  form: (input: NamedInput) => InputForm<unknown>,
  run: (view: V) => number,
  explain: (shifts: Float64Array) => void,
): TrialModel {
  const place: Place = { at: 0 };
  const columns = Array.from({ length: count }, (): Column => ({ shifts: new Float64Array(0) }));
  let view: V | undefined;
  return (shifts, size, out) => {
    view ??= viewOf(names, form, place, columns) as V;
    columns.forEach((column, k) => {
      column.shifts = shifts.subarray(k * size, (k + 1) * size);
    });
    try {
      runEach(run, view, place, out);
    } catch (error) {
      explain(Float64Array.from(columns, (column) => column.shifts[place.at]!));
      throw error;
    }
  };
}

function runEach<V>(run: (view: V) => number, view: V, place: Place, out: Float64Array): void {
  for (let at = 0; at < out.length; at++) {
    place.at = at;
    const value = run(view);
    if (!(Math.abs(value) < Number.POSITIVE_INFINITY)) throw new RangeError(`the model gives ${value}`);
    out[at] = value;
  }
}

function viewOf(
  names: readonly NamedInput[],
  form: (input: NamedInput) => InputForm<unknown>,
  place: Place,
  columns: readonly Column[],
): object {
  // a prototype of its own keeps the engine from taking it for another budget's object with members of the same names
  const view: object = Object.create(Object.create(Object.prototype));
  for (const input of names) {
    Object.defineProperty(view, input.name, { enumerable: true, get: memberOf(input, form(input), place, columns) });
  }
  return view;
}

/** the value of one input in the trial in hand; written out for the usual case of one term, which is read most */
function memberOf(
  { terms, places }: NamedInput,
  { start, scale, make }: InputForm<unknown>,
  place: Place,
  columns: readonly Column[],
): () => unknown {
  const [only] = terms;
  if (only !== undefined && terms.length === 1) {
    const column = columns[places[0]!]!;
    const slope = scale * only.sensitivity;
    return make === undefined
      ? () => start + slope * column.shifts[place.at]!
      : () => make(start + slope * column.shifts[place.at]!);
  }
  const parts = terms.map(({ sensitivity }, k) => ({ slope: scale * sensitivity, column: columns[places[k]!]! }));
  const sum = (): number => {
    let value = start;
    for (const { slope, column } of parts) value += slope * column.shifts[place.at]!;
    return value;
  };
  return make === undefined ? sum : () => make(sum());
}
