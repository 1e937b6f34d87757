import { makeBundle } from "./bundle.js";
import type { DisplayChannel } from "./channel.js";
import { Html, html } from "./html.js";
import { packedPlotly } from "./package-files.js";
import { loaderFunction } from "./plotly-script.js";

const served = new Set<string>();

/** how long a page is given to run the loader before it is taken out of the notebook again */
const replaceAfterMs = 4000;

/**
 * Sends the plotting script (2 MB, read from the installed package) to a front end that does not have it yet, as a
 * display of its own, and replaces it by a line of text a little later, so that a saved notebook does not hold it.
 * A run without a front end gets none: its figures are drawn by the report.
 */
export function servePlotly(
  channel: DisplayChannel | undefined,
  later: (act: () => void, ms: number) => void = laterInBackground,
): void {
  if (channel === undefined || channel.headless === true || served.has(channel.session)) return;
  served.add(channel.session);
  const id = `dialbook-plotly-${channel.session}`;
  const loader = new Html(`<script>(${loaderFunction})(window,document,"${packedPlotly()}")</script>`);
  const text = "figures of this page can be turned and read with the pointer";
  channel.show(makeBundle(text, loader), id);
  later(() => channel.update(makeBundle(text, html`<p class="db-notes">${text}</p>`), id), replaceAfterMs);
}

function laterInBackground(act: () => void, ms: number): void {
  setTimeout(act, ms).unref();
}
