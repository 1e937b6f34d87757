import { display, type MimeBundle } from "../quantity/index.js";
import { type Material, material } from "./material.js";
import { materialRows } from "./material-rows.js";

/** The materials table: expansion with its limits, modulus, sources. */
export class Materials {
  /** attached by the display folder when the package loads */
  declare readonly [display]: () => MimeBundle;
  private readonly pieces: readonly Material[] = materialRows.map(({ name }) => material(name));

  get length(): number {
    return this.pieces.length;
  }

  /** The material in a row, from 0; undefined beyond the last. */
  at(i: number): Material | undefined {
    return this.pieces[i];
  }

  [Symbol.iterator](): Iterator<Material> {
    return this.pieces[Symbol.iterator]();
  }

  toArray(): readonly Material[] {
    return [...this.pieces];
  }

  /** One line a material. */
  toString(): string {
    return this.pieces.map(String).join("\n");
  }

  [Symbol.for("nodejs.util.inspect.custom")](): string {
    return this.toString();
  }
}

/**
 * The materials table, a fresh piece of each.
 *
 * @example
 * heat.materials().toArray().map(({ name }) => name).slice(0, 2).join() // => "steel,grey iron"
 */
export function materials(): Materials {
  return new Materials();
}
