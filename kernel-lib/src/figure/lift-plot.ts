import type { LiftUnderPull, SmallMoves } from "../axis/index.js";
import { printDecimals } from "../quantity/print.js";
import { barColour } from "./bars-plan.js";
import type { Figure } from "./figure.js";
import { figureLines, type MapOptions } from "./options.js";
import { xyLengths } from "./xy-lengths.js";
import type { XySeries } from "./xy-plan.js";

const pulledColour = "#8a5a1b";

/**
 * Two ladders of a vertical axis in one picture: as it hangs, and under an upward pull, with the lift between them.
 *
 * @param found as `axis.liftUnderPull` gives it
 * @example
 * const rungs = [0, 10, 20, 30, 20, 10, 0].map((at) => um(at));
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(2) });
 * const free = axis.smallMoves({ axis: "Z", commanded: rungs, readings: rungs, gauge: dial });
 * const held = { pull: newton(900), released: um(0), readings: rungs.map((at) => at.plus(um(18))) };
 * const pulled = axis.smallMoves({ axis: "Z", commanded: rungs, gauge: dial, ...held });
 * figure.liftPlot(axis.liftUnderPull({ free, pulled, weight: newton(690) })).texts.marked.join() // => "lift 18.0 µm"
 */
export function liftPlot(found: LiftUnderPull, options: Pick<MapOptions, "title" | "cautions" | "notes"> = {}): Figure {
  const { free, pulled } = found;
  const { commandedUm, readingsUm } = free.plain;
  const top = commandedUm.indexOf(Math.max(...commandedUm));
  const label = `lift ${printDecimals(found.lift.in("um"), 1)} µm`;
  const from = readingsUm[top]!;
  return xyLengths(
    {
      texts: {
        title: options.title ?? `${free.axis} as it hangs, and pulled up by ${found.pull}`,
        subtitle: "▲ way up, ▼ way down; line: as it hangs; dashed: under the pull",
        axes: ["commanded/µm", "reading/µm"],
        edges: [],
        lines: figureLines({ ...options, notes: [...found.notes, ...(options.notes ?? [])] }),
        marked: [label],
      },
      alt: `Readings of two ladders against their commands, ${free.axis} as it hangs and pulled up by ${found.pull}: ${label}.`,
      series: [free, pulled].flatMap((ladder) => waysOf(ladder, top, ladder === free)),
      brackets: [{ from, to: from + found.lift.in("um"), beside: 0, label }],
    },
    [free.name, pulled.name, ...(options.notes ?? [])],
  );
}

function waysOf({ plain }: SmallMoves, top: number, isFree: boolean): readonly XySeries[] {
  const { commandedUm, readingsUm } = plain;
  const how = isFree ? "as it hangs" : "under the pull";
  return (["up", "down"] as const).map((sign) => ({
    points: commandedUm.flatMap((x, i) => {
      const y = readingsUm[i]!;
      const hover = `asked ${printDecimals(x, 1)} µm, read ${printDecimals(y, 1)} µm ${how}`;
      return (sign === "up" ? i <= top : i >= top) ? [{ x, y, hover }] : [];
    }),
    sign,
    colour: isFree ? barColour : pulledColour,
    line: isFree ? "solid" : "dash",
    band: false,
  }));
}
