import { readFileSync, type Stats, statSync } from "node:fs";
import { createRequire } from "node:module";
import { extname, join } from "node:path";
import type { LiveContext } from "./live-context.js";
import { Refused } from "./refused.js";
import type { Answer, Asked, Route } from "./route.js";

/** type of a file by its ending; what is not listed is sent as bytes */
export const types: { readonly [ending: string]: string } = {
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".html": "text/html; charset=utf-8",
  ".json": "application/json",
  ".map": "application/json",
  ".svg": "image/svg+xml",
  ".png": "image/png",
  ".jpg": "image/jpeg",
  ".jpeg": "image/jpeg",
  ".gif": "image/gif",
  ".webp": "image/webp",
  ".woff": "font/woff",
  ".woff2": "font/woff2",
  ".ttf": "font/ttf",
  ".csv": "text/csv; charset=utf-8",
  ".txt": "text/plain; charset=utf-8",
  ".md": "text/plain; charset=utf-8",
};

/** The browser's own files: those the build made, and plotly straight from its package. */
export function assetRoutes({ pageFolder }: LiveContext): readonly Route[] {
  return [
    {
      method: "GET",
      path: "/asset/plotly.js",
      answer: (asked) => file(plotlyPath(), asked),
    },
    {
      method: "GET",
      path: "/asset/*name",
      answer: (asked) => {
        const { name = "" } = asked.open;
        if (!/^[\w-][\w.-]*$/.test(name)) throw missing(name);
        return file(join(pageFolder, name), asked);
      },
    },
    { method: "GET", path: "/favicon.ico", answer: () => ({ status: 204 }) },
  ];
}

/** Address of a file that the build made, with its mark: a browser keeps what it reads there, also compiled. */
export function assetAddress(pageFolder: string, name: string): string {
  const stats = statSync(join(pageFolder, name), { throwIfNoEntry: false });
  return stats ? `/asset/${name}?v=${markOf(stats)}` : `/asset/${name}`;
}

function markOf({ mtimeMs, size }: Stats): string {
  return `${Math.round(mtimeMs)}-${size}`;
}

/** kept by the browser for good under an address with the file's mark; under another it is asked for again by its mark */
function file(path: string, { headers: { "if-none-match": seen }, query }: Asked): Answer {
  try {
    const mark = markOf(statSync(path));
    const kept = query.get("v") === mark ? "private, max-age=31536000, immutable" : "no-cache";
    const headers = { etag: `"${mark}"`, "cache-control": kept };
    if (seen === headers.etag) return { status: 304, headers };
    return { body: readFileSync(path), type: types[extname(path)] ?? "application/octet-stream", headers };
  } catch {
    throw missing(path.split(/[\\/]/).at(-1) ?? "");
  }
}

function missing(name: string): Refused {
  return new Refused(404, "no-asset", `${JSON.stringify(name)}: the page has no such part; stop it and start it again`);
}

function plotlyPath(): string {
  return createRequire(__filename).resolve("plotly.js-dist-min");
}
