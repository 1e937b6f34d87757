import { printedBy } from "./installed-browser.js";

export interface PrintOptions {
  readonly paper: "A4" | "Letter";
  readonly withCode: boolean;
}

/**
 * A page of ours as PDF, printed by a browser that is installed here.
 *
 * @param html a page of a report, a sheet or a card
 * @throws MeasurementError `no-browser`, `not-printed`
 */
export function printedPage(html: string, name: string, options: PrintOptions): Uint8Array {
  return printedBy(pageOn(html, options), name, {
    file: "page.pdf",
    options: (path) => ["--no-pdf-header-footer", `--print-to-pdf=${path}`],
    mark: "%PDF-",
  });
}

/** The page with its paper said; a page that names its paper itself keeps that. */
export function pageOn(html: string, { paper, withCode }: PrintOptions): string {
  const size = /@page\{[^}]*size:/.test(html) ? "" : `@page{size:${paper === "A4" ? "A4" : "letter"};margin:15mm}`;
  const code = withCode ? "" : "@media print{main details{display:none}}";
  return html.replace("</head>", `<style>${size}${code}</style>\n</head>`);
}
