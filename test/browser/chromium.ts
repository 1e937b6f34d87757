import { existsSync } from "node:fs";
import { type Browser, chromium } from "playwright-core";

const path = process.env.CHROMIUM ?? "/usr/bin/chromium";

const options = [
  "--headless",
  "--no-sandbox",
  "--disable-gpu",
  "--enable-unsafe-swiftshader",
  "--use-angle=swiftshader",
  "--disable-background-networking",
  "--disable-component-update",
  "--no-first-run",
];

/** False, with the reason printed, where there is no browser; on the build server that is a failure. */
export function browserIsThere(): boolean {
  if (existsSync(path)) return true;
  const reason = `no browser at ${path}; install Chromium or set CHROMIUM to its path`;
  if (process.env.CI === "true") throw new Error(reason);
  console.warn(`skipped: ${reason}`);
  return false;
}

/** for whatever a page is waited for: many times what it takes, as the machine may have other work */
export const patient = { timeout: 60_000 };

export function openBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath: path, args: options });
}
