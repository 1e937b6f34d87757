import { MeasurementError } from "../measurement-error.js";
import type { Length } from "../quantity/index.js";

interface Stack {
  readonly thicknessUm: number;
  /** thickest first */
  readonly foilsUm: readonly number[];
}

/** All stacks that can be laid from the foils at hand. */
export class FoilStacks {
  readonly finestUm: number;
  private readonly stacks: readonly Stack[];

  /** @throws MeasurementError `foils` */
  constructor(foils: readonly Length[], most: number) {
    if (!(foils.length > 0)) {
      throw new MeasurementError("foils", "shims: no foil is given; list the thicknesses at hand, like um(20), um(50)");
    }
    const bad = foils.find((foil) => !(foil.si > 0));
    if (bad) {
      throw new MeasurementError("foils", `shims: a foil of ${bad} is none; give thicknesses above zero`);
    }
    if (!(Number.isInteger(most) && most >= 1 && most <= 6)) {
      throw new MeasurementError("foils", `shims: ${most} foils in a stack; give a whole number from 1 to 6`);
    }
    const sizes = [...new Set(foils.map((foil) => Number(foil.in("um").toPrecision(9))))].sort((a, b) => b - a);
    this.finestUm = sizes.at(-1)!;
    this.stacks = laid(sizes, most);
  }

  get thickestUm(): number {
    return this.stacks.at(-1)!.thicknessUm;
  }

  /**
   * The stack for a thickness: nearest, where a foil more is laid only if it brings the stack nearer by more than it is worth.
   *
   * @param worthUm what one foil must gain
   */
  fewest(um: number, worthUm: number): Stack {
    const cost = ({ thicknessUm, foilsUm }: Stack) => Math.abs(thicknessUm - um) + worthUm * foilsUm.length;
    return this.stacks.reduce((best, stack) => {
      const gain = cost(best) - cost(stack);
      return gain > 1e-9 || (gain > -1e-9 && stack.foilsUm.length < best.foilsUm.length) ? stack : best;
    });
  }
}

/** stacks by thickness, each thickness once with the fewest foils; the empty one first */
function laid(sizes: readonly number[], most: number): readonly Stack[] {
  const found = new Map<string, Stack>([["0", { thicknessUm: 0, foilsUm: [] }]]);
  let last: readonly Stack[] = [...found.values()];
  for (let count = 1; count <= most; count++) {
    const next = last.flatMap(({ thicknessUm, foilsUm }) =>
      sizes
        .filter((size) => size <= (foilsUm.at(-1) ?? size))
        .map((size) => ({ thicknessUm: thicknessUm + size, foilsUm: [...foilsUm, size] })),
    );
    for (const stack of next) {
      const name = stack.thicknessUm.toFixed(3);
      if (!found.has(name)) found.set(name, stack);
    }
    last = next;
  }
  return [...found.values()].sort((a, b) => a.thicknessUm - b.thicknessUm);
}
