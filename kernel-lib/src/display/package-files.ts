import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { gzipSync } from "node:zlib";

/** The only file of this folder that reads the disk: versions of installed packages and the plotting script. */
const load = createRequire(__filename);

/** Version of an installed package, as its own package file says. */
export function packageVersion(name: "dialbook" | "tslab" | "plotly.js-dist-min"): string {
  const file = name === "dialbook" ? join(__dirname, "..", "..", "package.json") : `${name}/package.json`;
  const { version } = load(file) as { readonly version: string };
  return version;
}

let packed: string | undefined;

/** The plotting script, gzip in base64, read once when a figure first needs it. */
export function packedPlotly(): string {
  packed ??= gzipSync(readFileSync(load.resolve("plotly.js-dist-min/plotly.min.js")), { level: 9 }).toString("base64");
  return packed;
}

/** The licence notice at the head of the plotting script. */
export function plotlyBanner(): string {
  const head = readFileSync(load.resolve("plotly.js-dist-min/plotly.min.js"), "utf8").slice(0, 2000);
  return /^\/\*\*[\s\S]*?\*\//.exec(head)?.[0] ?? "";
}

/** Version of Node that runs this, as "20.20.2". */
export function nodeVersion(): string {
  return process.versions.node;
}
