import type { FormTerm, MakeUp } from "../form/make-up.js";
import { printDecimals } from "../quantity/print.js";
import { bars } from "./bars.js";
import { Figure } from "./figure.js";
import { heightTitles, type MapOptions } from "./options.js";
import { type PrintScale, scaleText } from "./print-units.js";

/**
 * What a form is made of, as bars: the share of the variance of the heights that each term takes, its amplitude beside
 * its name, and what is left. The tilt is left out of the reckoning: the table is levelled, its form stays.
 *
 * @param made as `form.makeUp` gives it
 * @throws MeasurementError as `bars`
 * @example
 * const places = [0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => ({ label: `P${i}${j}`, xMm: 40 * i, yMm: 50 * j, zUm: i * j, count: 2 })));
 * const frame = { relativeTo: "travel", front: "y-", plusX: "right", plusY: "back" };
 * figure.formBars(form.makeUp({ name: "plate", frame, gauge: gauge({ resolution: um(1), maximumPermissibleError: um(4) }), places, noise: { standardUncertaintyUm: 0.5, degreesOfFreedom: 8 } })).texts.axes.join() // => "share of the variance without the tilt/%"
 */
export function formBars(made: MakeUp, options: Pick<MapOptions, "title" | "cautions" | "notes"> = {}): Figure {
  const { surface, tiltX, tiltY, bowX, bowY, twist, higher, rest, restOfAll } = made;
  const form = 1 - tiltX.share - tiltY.share;
  const percent = (share: number) => (form > 0 ? (100 * Math.max(share, 0)) / form : 0);
  const said = (height: PrintScale) => (term: FormTerm<"length">) => ({
    label: `${term.name}, ${scaleText(height, term.amplitude.in("um"), 1)}`,
    value: percent(term.share),
    text: `${printDecimals(percent(term.share), 0)} %`,
  });
  const left = higher.length > 0 ? restOfAll : rest;
  const high = higher.reduce((sum, term) => sum + term.share, 0);
  const rows = (height: PrintScale) => [
    ...[bowX, bowY, twist].map(said(height)),
    ...(higher.length > 0
      ? [{ label: "third and fourth order", value: percent(high), text: `${printDecimals(percent(high), 0)} %` }]
      : []),
    {
      label: `left over, s ${scaleText(height, left.standardDeviationUm, 1)}`,
      value: percent(left.share),
      text: `${printDecimals(percent(left.share), 0)} %`,
    },
  ];
  const [title, subtitle] = heightTitles(
    surface,
    { title: options.title ?? `${surface.name}: what its form is made of` },
    ["amplitude of each term beside its name; s: standard deviation of a place"],
  );
  const axis = "share of the variance without the tilt/%";
  return Figure.drawn(({ height }) => bars({ ...options, title, subtitle, axis, rows: rows(height) }));
}
