import { MeasurementError } from "../measurement-error.js";
import { type Kind, Quantity } from "../quantity/index.js";
import { readSheetFile } from "../survey/files.js";
import type { SheetFile, Surface } from "../survey/index.js";
import { dateForm } from "./record-entry.js";

/** how the name of a number ends, longest first, its kind, and what one of it is in SI */
const endings = [
  ["UmPerM", "slope", 1e-6],
  ["Deg", "angle", Math.PI / 180],
  ["Min", "time", 60],
  ["Um", "length", 1e-6],
  ["Mm", "length", 1e-3],
  ["K", "temperature difference", 1],
] as const;

/** values of no name */
const unnamed = "reference values";

type Read = "length" | "slope" | "angle" | "time" | "temperature difference";

/** Values known better than by the measurement in hand, by the path of names under which they stand in a JSON text; each name ends
 * in its unit: `playUm`, `atMm`, `pitchUmPerM`, `angleDeg`, `warmUpMin`, `riseK`. */
export class ReferenceValues {
  /** @internal made by `parseReferenceValues` */
  constructor(
    readonly name: string,
    private readonly values: unknown,
    readonly file: SheetFile | undefined,
  ) {
    Object.freeze(this);
  }

  length(...path: readonly string[]): Quantity<"length"> {
    return this.quantity("length", path);
  }

  slope(...path: readonly string[]): Quantity<"slope"> {
    return this.quantity("slope", path);
  }

  angle(...path: readonly string[]): Quantity<"angle"> {
    return this.quantity("angle", path);
  }

  time(...path: readonly string[]): Quantity<"time"> {
    return this.quantity("time", path);
  }

  /** a rise of temperature */
  temperatureDifference(...path: readonly string[]): Quantity<"temperature difference"> {
    return this.quantity("temperature difference", path);
  }

  /** a day, written "2029-01-20" */
  date(...path: readonly string[]): string {
    const value = this.at(path);
    if (typeof value === "string" && dateForm.test(value)) return value;
    return this.refuse(path, "is no date; write year, month and day such as 2029-01-20");
  }

  /** The reference heights at the places of a map, a list of `{ place, zUm }` under the path; every place of the map must be in it. */
  surface(map: Surface, ...path: readonly string[]): Surface {
    const list = this.at(path);
    if (!Array.isArray(list)) return this.refuse(path, "is no list of heights; give the path of one");
    const heights = new Map<unknown, unknown>(
      list.map((one: { readonly place?: unknown; readonly zUm?: unknown }) => [one?.place, one?.zUm]),
    );
    const places = map.places.map((place) => {
      const zUm = heights.get(place.label);
      if (typeof zUm !== "number" || !Number.isFinite(zUm)) {
        return this.refuse(
          path,
          `has no height zUm for ${place.label}; give a list that holds every place of ${map.name}`,
        );
      }
      return { ...place, zUm };
    });
    const { drift, ...rest } = map;
    return { ...rest, name: `${this.name}: ${path.join(", ")}`, places };
  }

  toString(): string {
    return this.name === unnamed ? unnamed : `reference values of ${this.name}`;
  }

  private quantity<K extends Read>(kind: K, path: readonly string[]): Quantity<K> {
    const value = this.at(path);
    const ending = endings.find(([end]) => path.at(-1)?.endsWith(end));
    if (!ending || ending[1] !== kind) {
      const fitting = endings.filter(([, of]) => of === kind).map(([end]) => end);
      return this.refuse(path, `is no ${kind} by its name; a ${kind} is called …${fitting.join(" or …")}`);
    }
    if (typeof value !== "number" || !Number.isFinite(value))
      return this.refuse(path, "is not a number; correct the text");
    return Quantity.fromSi<Kind>(kind, value * ending[2]) as Quantity<K>;
  }

  private at(path: readonly string[]): unknown {
    let here = this.values;
    path.forEach((key, i) => {
      const known = typeof here === "object" && here !== null && Object.hasOwn(here, key);
      if (!known) this.refuse(path.slice(0, i + 1), "is not there; give the names as they stand in the text");
      here = (here as { readonly [name: string]: unknown })[key];
    });
    return here;
  }

  private refuse(path: readonly string[], what: string): never {
    throw new MeasurementError("reference", `${this.name}: ${path.join(" > ")} ${what}`);
  }
}

/**
 * Values known better than by the measurement in hand, from a JSON text.
 *
 * @throws MeasurementError `reference`
 * @example
 * proof.parseReferenceValues('{ "X": { "playUm": 14 } }').length("X", "playUm").in("um").toFixed(1) // => "14.0"
 */
export function parseReferenceValues(
  text: string,
  options: { readonly name?: string; readonly file?: SheetFile } = {},
): ReferenceValues {
  const name = options.name ?? unnamed;
  try {
    return new ReferenceValues(name, JSON.parse(text), options.file);
  } catch {
    throw new MeasurementError("reference", `${name}: is no JSON text; give one such as { "playUm": 14 }`);
  }
}

/**
 * Values known better than by the measurement in hand, from a JSON file.
 *
 * @throws MeasurementError `no-such-file`, `reference`
 * @example
 * proof.readReferenceValues("data/truth.json").length("noiseUm").in("um").toFixed(1) // => "0.9"
 */
export function readReferenceValues(path: string): ReferenceValues {
  const { source, ...file } = readSheetFile(path);
  return parseReferenceValues(source.text(), { name: file.name, file });
}
