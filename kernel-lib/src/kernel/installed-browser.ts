import { spawnSync } from "node:child_process";
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { homedir, tmpdir } from "node:os";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { MeasurementError } from "../measurement-error.js";
import { browserPlaces } from "./browser-place.js";

/** a page of a dozen figures takes seconds; a browser that hangs is ended */
const longestMs = 120_000;

/** What a browser makes of a page. */
export interface PagePrint {
  /** the file it writes: "page.pdf" */
  readonly file: string;
  /** what it is asked for, given the path of that file */
  readonly options: (path: string) => readonly string[];
  /** how the file begins */
  readonly mark: string;
}

/**
 * A page as an installed browser prints it, without a window, without a network; no script of the page is run.
 *
 * @param name of the page, for the sentence of a refusal
 * @throws MeasurementError `no-browser`, `not-printed`
 */
export function printedBy(html: string, name: string, { file, options, mark }: PagePrint): Uint8Array {
  const browser = findBrowser();
  const place = mkdtempSync(join(tmpdir(), "dialbook-"));
  try {
    const [page, made] = [join(place, "page.html"), join(place, file)];
    writeFileSync(page, withoutScripts(html));
    const { status, error } = spawnSync(browser, [...quiet(place), ...options(made), pathToFileURL(page).href], {
      timeout: longestMs,
      stdio: "ignore",
    });
    const bytes = existsSync(made) ? readFileSync(made) : Buffer.alloc(0);
    if (bytes.subarray(0, mark.length).toString("latin1") === mark) return bytes;
    const why = error ? error.message : `it ended with ${status}`;
    throw new MeasurementError(
      "not-printed",
      `${name}: ${browser} did not print it (${why}); open the page in a browser and print it there`,
    );
  } finally {
    rmSync(place, { recursive: true, force: true, maxRetries: 3 });
  }
}

/** A policy of its own before anything else in the page: no script of it runs, ours included, and nothing is fetched. */
export function withoutScripts(html: string): string {
  const policy = "script-src 'none'; connect-src 'none'; frame-src 'none'; object-src 'none'; base-uri 'none'";
  return html.replace(
    /^\s*(?:<!doctype[^>]*>)?/i,
    (start) => `${start}<meta http-equiv="Content-Security-Policy" content="${policy}">`,
  );
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

function quiet(place: string): readonly string[] {
  return [
    "--headless",
    "--disable-gpu",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--host-resolver-rules=MAP * ~NOTFOUND",
    `--user-data-dir=${join(place, "profile")}`,
    // a browser run by root refuses its own sandbox; the page fetches nothing and runs nothing
    ...(process.getuid?.() === 0 ? ["--no-sandbox"] : []),
  ];
}
