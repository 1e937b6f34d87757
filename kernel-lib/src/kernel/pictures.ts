import { fileStem } from "../figure/file-stem.js";
import { printedBy } from "./installed-browser.js";
import type { Notebook } from "./notebook.js";
import { isQuietPage } from "./quiet-markup.js";

/** A still picture that a notebook shows. */
export interface ShownPicture {
  /** its file without ending: place among the pictures of the notebook, title in small letters and dashes */
  readonly name: string;
  readonly svg: string;
}

/** The figures of a notebook that ran, as SVG; those that are not as we draw them are named, not handed on. */
export function picturesOf({ cells }: Notebook): {
  readonly pictures: readonly ShownPicture[];
  readonly refused: readonly string[];
} {
  const found = cells
    .flatMap((cell) => (cell.cell_type === "code" ? cell.outputs : []))
    .flatMap((output) => {
      const markup = "data" in output ? output.data["text/html"] : undefined;
      return typeof markup === "string" ? stillsIn(markup) : [];
    });
  const named = found.map((svg, i) => ({ name: `${String(i + 1).padStart(2, "0")}-${titleIn(svg)}`, svg }));
  return {
    pictures: named.filter(({ svg }) => isPicture(svg)),
    refused: named.filter(({ svg }) => !isPicture(svg)).map(({ name }) => name),
  };
}

function stillsIn(markup: string): readonly string[] {
  const all = markup.matchAll(
    /<figure data-dialbook-figure="[^"]*" data-spec='[^']*'><img alt="[^"]*" src="data:image\/svg\+xml;base64,([A-Za-z0-9+/=]*)">/g,
  );
  return [...all].map(([, packed = ""]) => Buffer.from(packed, "base64").toString("utf8"));
}

/** the first words in bold are the title */
function titleIn(svg: string): string {
  const [, title = ""] = /<text [^>]*font-weight="600"[^>]*>([^<]*)</.exec(svg) ?? [];
  return fileStem(title.replace(/&#\d+;/g, " "), "figure");
}

/** opened by itself a picture would run what is in it */
function isPicture(svg: string): boolean {
  return svg.startsWith("<svg ") && isQuietPage(svg);
}

/**
 * A picture as PNG, twice as fine as on the page, painted by a browser that is installed here.
 *
 * @throws MeasurementError `no-browser`, `not-printed`
 */
export function pngOf({ name, svg }: ShownPicture): Uint8Array {
  const [, width = "640", height = "480"] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg) ?? [];
  const size = [width, height].map((text) => Math.ceil(Number(text)));
  const source = `data:image/svg+xml;base64,${Buffer.from(svg, "utf8").toString("base64")}`;
  const page = `<!doctype html><html><head><style>body{margin:0;background:#fff}img{display:block;width:${size[0]}px;height:${size[1]}px}</style></head><body><img alt="" src="${source}"></body></html>`;
  return printedBy(page, `${name}.png`, {
    file: "page.png",
    options: (path) => [
      `--screenshot=${path}`,
      `--window-size=${size.join()}`,
      "--force-device-scale-factor=2",
      "--hide-scrollbars",
    ],
    mark: "\u0089PNG",
  });
}
