import { MeasurementError } from "../measurement-error.js";
import { type Kind, Quantity } from "../quantity/index.js";
import { type AnyInput, Input } from "./input.js";
import { type AnyMeasured, Measured } from "./measured.js";

/** What may go into a budget: an input, an earlier result, or a quantity taken as exact. */
export type Given = Quantity<Kind> | AnyInput | AnyMeasured;

/** the kind of what was given */
export type KindOf<G> =
  G extends Quantity<infer K>
    ? K
    : G extends { readonly estimate: Quantity<infer K> }
      ? K
      : G extends { readonly value: Quantity<infer K> }
        ? K
        : never;

/** what the model is called with: a quantity of the right kind under each name */
export type Arguments<I> = { readonly [P in keyof I]: Quantity<KindOf<I[P]>> };

/** a given thing as a value and its sensitivities */
export function opened(where: string, name: string, given: Given): AnyMeasured {
  if (given instanceof Quantity) return { value: given, terms: [] };
  if (given instanceof Input) return { value: given.estimate, terms: [{ input: given, sensitivity: 1 }] };
  if (given instanceof Measured) return { value: given.value, terms: given.terms };
  throw new MeasurementError(
    "budget",
    `${where}: ${String(given)} was given for "${name}"; give an input, a measured value or a quantity with its unit`,
  );
}
