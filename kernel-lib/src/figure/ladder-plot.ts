import type { SmallMoves } from "../axis/index.js";
import { printDecimals } from "../quantity/print.js";
import { barColour } from "./bars-plan.js";
import type { Figure } from "./figure.js";
import { softInk } from "./frame.js";
import { figureLines, type MapOptions } from "./options.js";
import { xyLengths } from "./xy-lengths.js";
import type { XySeries } from "./xy-plan.js";

/**
 * A ladder of small moves: what was read against what was commanded, the way up and the way down, and the axis with play that
 * fits them best.
 *
 * @param found as `axis.smallMoves` gives it
 * @example
 * const rungs = [0, 5, 10, 15, 10, 5, 0];
 * const readings = [0, 5, 10, 15, 15, 11, 6].map((z) => um(z));
 * const dial = gauge({ resolution: um(1), maximumPermissibleError: um(2) });
 * figure.ladderPlot(axis.smallMoves({ axis: "X", commanded: rungs.map((c) => um(c)), readings, gauge: dial })).texts.axes.join() // => "commanded/µm,reading/µm"
 */
export function ladderPlot(found: SmallMoves, options: Pick<MapOptions, "title" | "cautions" | "notes"> = {}): Figure {
  const { commandedUm, readingsUm, modelUm } = found.plain;
  const top = commandedUm.indexOf(Math.max(...commandedUm));
  const hover = (i: number, y: number, what: string) =>
    `asked ${printDecimals(commandedUm[i]!, 1)} µm, ${what} ${printDecimals(y, 1)} µm`;
  const way = (direction: "up" | "down"): XySeries => ({
    points: commandedUm.flatMap((x, i) =>
      i <= top === (direction === "up") ? [{ x, y: readingsUm[i]!, hover: hover(i, readingsUm[i]!, "read") }] : [],
    ),
    sign: direction,
    colour: direction === "up" ? barColour : "#8a5a1b",
    line: "none",
    band: false,
  });
  const model: XySeries = {
    points: modelPoints(commandedUm, modelUm, found.play.in("um"), top).map(({ x, y }) => ({
      x,
      y,
      hover: "axis with this play",
    })),
    sign: "none",
    colour: softInk,
    line: "solid",
    band: false,
  };
  // where both ways have come to follow: some way before the end of the way down, with a rung of the way up at the same place
  const last = commandedUm.length - 1;
  const at = Math.max(top + 1, Math.round(last - (last - top) / 4));
  const label = `play ${printDecimals(found.play.in("um"), 1)} µm`;
  const twin = commandedUm.indexOf(commandedUm[at]!);
  const from = twin < at ? modelUm[twin]! : modelUm[at]! - found.play.in("um");
  return xyLengths(
    {
      texts: {
        title: options.title ?? `Ladder: ${found.name}`,
        subtitle: "▲ way up, ▼ way down; line: an axis with this play that otherwise follows",
        axes: ["commanded/µm", "reading/µm"],
        edges: [],
        lines: figureLines({ ...options, notes: [...found.notes, ...(options.notes ?? [])] }),
        marked: [label],
      },
      alt: `Readings of ${commandedUm.length} rungs up and down against the commands, ${found.name}: ${label}.`,
      series: [model, way("up"), way("down")],
      brackets: [{ from, to: modelUm[at]!, x: commandedUm[at]!, side: 1, words: "below", label }],
    },
    [found.name, ...(options.notes ?? [])],
  );
}

/** the model's line with the corner where the play is taken up, which lies between two rungs */
function modelPoints(commanded: readonly number[], model: readonly number[], play: number, top: number) {
  const points = commanded.map((x, i) => ({ x, y: model[i]! }));
  const corner = { x: commanded[top]! - play, y: model[top]! };
  const behind = points.findIndex(({ x }, i) => i > top && x < corner.x);
  return behind < 0 ? points : [...points.slice(0, behind), corner, ...points.slice(behind)];
}
