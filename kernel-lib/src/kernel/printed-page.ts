import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { homedir, tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { MeasurementError } from "../measurement-error.js";
import { browserPlaces } from "./browser-place.js";

export interface PrintOptions {
  readonly paper: "A4" | "Letter";
  readonly withCode: boolean;
}

/** a page of a dozen figures takes seconds; a browser that hangs is ended */
const longestMs = 120_000;

/**
 * A page of ours as PDF, printed by a browser that is installed here, without a window and without a network.
 *
 * @param html a page of a report, a sheet or a card
 * @throws MeasurementError `no-browser`, `not-printed`
 */
export function printedPage(html: string, name: string, options: PrintOptions): Uint8Array {
  const browser = findBrowser();
  const place = mkdtempSync(join(tmpdir(), "dialbook-"));
  try {
    const [page, pdf] = [join(place, "page.html"), join(place, "page.pdf")];
    writeFileSync(page, pageOn(html, options));
    const { status, error } = spawnSync(browser, argumentsFor(place, page, pdf), {
      timeout: longestMs,
      stdio: "ignore",
    });
    const bytes = existsSync(pdf) ? readFileSync(pdf) : Buffer.alloc(0);
    if (bytes.subarray(0, 5).toString("latin1") === "%PDF-") return bytes;
    const why = error ? error.message : `it ended with ${status}`;
    throw new MeasurementError(
      "not-printed",
      `${name}: ${browser} did not print it (${why}); open the page in a browser and print it there`,
    );
  } finally {
    rmSync(place, { recursive: true, force: true, maxRetries: 3 });
  }
}

/** The page with its paper said; a page that names its paper itself keeps that. */
export function pageOn(html: string, { paper, withCode }: PrintOptions): string {
  const size = /@page\{[^}]*size:/.test(html) ? "" : `@page{size:${paper === "A4" ? "A4" : "letter"};margin:15mm}`;
  const code = withCode ? "" : "@media print{main details{display:none}}";
  return html.replace("</head>", `<style>${size}${code}</style>\n</head>`);
}

function findBrowser(): string {
  const place = { platform: process.platform, home: homedir(), environment: process.env };
  const found = browserPlaces(place).find((path) => existsSync(path));
  if (found !== undefined) return found;
  throw new MeasurementError(
    "no-browser",
    "print: no browser that prints by itself was found here; open the page in any browser and print it, or set CHROMIUM to the path of one",
  );
}

function argumentsFor(place: string, page: string, pdf: string): readonly string[] {
  return [
    "--headless",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--host-resolver-rules=MAP * ~NOTFOUND",
    `--user-data-dir=${join(place, "profile")}`,
    // a browser run by root refuses its own sandbox; the page is one of ours and fetches nothing
    ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
    "--no-pdf-header-footer",
    `--print-to-pdf=${pdf}`,
    pathToFileURL(page).href,
  ];
}
