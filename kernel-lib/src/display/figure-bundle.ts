import type { Figure } from "../figure/index.js";
import { escapeMarkup } from "../figure/markup.js";
import type { MimeBundle } from "../quantity/display-member.js";
import { makeBundle } from "./bundle.js";
import { currentChannel } from "./channel.js";
import { Html } from "./html.js";
import { servePlotly } from "./plotly-loader.js";
import { drawTag } from "./plotly-script.js";
import { unitSystem } from "./preference.js";

export const plotlyMime = "application/vnd.plotly.v1+json";

/** A figure as a still picture that a page with scripts turns into a live one, in the units that cells are shown in. */
export function figureBundle(asMade: Figure): MimeBundle {
  const figure = asMade.shownIn(unitSystem());
  servePlotly(currentChannel());
  return makeBundle(figure.toString(), new Html(figureMarkup(figure) + drawTag), {
    [plotlyMime]: { data: figure.data, layout: figure.layout },
    "image/svg+xml": figure.still,
  });
}

/** The still picture, with what the live one needs beside it. */
export function figureMarkup(figure: Figure): string {
  const picture = Buffer.from(figure.still, "utf8").toString("base64");
  const spec = JSON.stringify({ data: figure.data, layout: figure.layout }).replaceAll("<", "\\u003c");
  // a quotation mark takes one character less this way, and there are thousands
  const quoted = spec.replaceAll("&", "&amp;").replaceAll("'", "&#39;");
  return (
    `<figure data-dialbook-figure="${figure.id}" data-spec='${quoted}'>` +
    `<img alt="${escapeMarkup(figure.alt)}" src="data:image/svg+xml;base64,${picture}"></figure>`
  );
}
