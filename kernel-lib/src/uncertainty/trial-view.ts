import { type Kind, Quantity } from "../quantity/index.js";
import type { AnyMeasured } from "./measured.js";

/** looked up once: a million trials make many million quantities */
const { fromSi } = Quantity;

import type { WorkColumn } from "./trials.js";

/** An input of a model by its name, opened down to the independent ones: places are rows of a table of shifts. */
export interface NamedInput extends AnyMeasured {
  readonly name: string;
  readonly places: readonly number[];
}

/** how a value is scaled from SI into what the model is given */
export interface InputForm {
  /** the value at the estimates */
  readonly start: number;
  /** times a shift in SI */
  readonly scale: number;
  /** of the quantity that the model is given; left out: it is given the number */
  readonly kind?: Kind;
}

/** The trial that a model is just being evaluated for: a column of a table of shifts with a row of `size` an input. */
export class Place {
  shifts: WorkColumn = new Float64Array(0);
  size = 1;
  at = 0;
  /** names that the model has not read so far; undefined when it has read all of them */
  unread: Set<string> | undefined;

  constructor(names: readonly string[]) {
    this.unread = names.length > 0 ? new Set(names) : undefined;
  }

  read(name: string): void {
    this.unread?.delete(name);
    if (this.unread?.size === 0) this.unread = undefined;
  }

  /** the shifts of the trial in hand */
  own(): Float64Array {
    const { shifts, size, at } = this;
    return Float64Array.from({ length: shifts.length / size }, (_, k) => shifts[k * size + at]!);
  }
}

/**
 * What a model is called with, over and over: one object whose members read the trial in hand when the model asks for
 * them. Nothing is stored for a trial, and the engine, which sees no other object, puts the reading into the model.
 */
export function viewOf(inputs: readonly NamedInput[], form: (input: NamedInput) => InputForm, place: Place): object {
  // a prototype of its own keeps the engine from taking it for another budget's object with members of the same names
  const view: object = Object.create(Object.create(Object.prototype));
  for (const input of inputs) {
    Object.defineProperty(view, input.name, { enumerable: true, get: memberOf(input, form(input), place) });
  }
  return view;
}

/** the value of one input in the trial in hand; written out for the usual case of one term, so that the engine has
 * little to put into the model */
function memberOf({ name, terms, places }: NamedInput, { start, scale, kind }: InputForm, place: Place): () => unknown {
  const [only] = terms;
  if (only !== undefined && terms.length === 1) {
    const row = places[0]!;
    const slope = scale * only.sensitivity;
    if (kind === undefined) {
      return () => {
        if (place.unread !== undefined) place.read(name);
        return start + slope * place.shifts[row * place.size + place.at]!;
      };
    }
    return () => {
      if (place.unread !== undefined) place.read(name);
      return fromSi(kind, start + slope * place.shifts[row * place.size + place.at]!);
    };
  }
  const parts = terms.map(({ sensitivity }, k) => ({ slope: scale * sensitivity, row: places[k]! }));
  const sum = (): number => {
    place.read(name);
    let value = start;
    for (const { slope, row } of parts) value += slope * place.shifts[row * place.size + place.at]!;
    return value;
  };
  return kind === undefined ? sum : () => fromSi(kind, sum());
}
