import { readFileSync, statSync } from "node:fs";
import { createRequire } from "node:module";
import { extname, join } from "node:path";
import type { LiveContext } from "./live-context.js";
import { Refused } from "./refused.js";
import type { Answer, Route } from "./route.js";

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
      answer: ({ headers }) => file(plotlyPath(), headers["if-none-match"]),
    },
    {
      method: "GET",
      path: "/asset/*name",
      answer: ({ open: { name = "" }, headers }) => {
        if (!/^[\w-][\w.-]*$/.test(name)) throw missing(name);
        return file(join(pageFolder, name), headers["if-none-match"]);
      },
    },
    { method: "GET", path: "/favicon.ico", answer: () => ({ status: 204 }) },
  ];
}

/** kept by the browser, and asked for again only by its mark */
function file(path: string, seen: string | undefined): Answer {
  try {
    const { mtimeMs, size } = statSync(path);
    const headers = { etag: `"${Math.round(mtimeMs)}-${size}"`, "cache-control": "no-cache" };
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
