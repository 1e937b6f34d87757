import { existsSync } from "node:fs";
import { join } from "node:path";
import { html } from "../../display/html.js";
import { version } from "../version.js";
import { assetAddress } from "./assets.js";
import type { LiveContext } from "./live-context.js";
import { placeOf } from "./place.js";
import type { Answer, Asked, Route } from "./route.js";

type PageName = "list" | "notebook" | "sheet";

/** The three pages: one small shell each, which names its script, its style and where the server is. */
export function shellRoutes(context: LiveContext): readonly Route[] {
  const page = (name: PageName, path: string): Route => ({
    method: "GET",
    path,
    answer: (asked) => shell(context, name, asked),
  });
  return [page("list", "/"), page("notebook", "/notebook"), page("sheet", "/sheet")];
}

function shell({ pageFolder, project }: LiveContext, name: PageName, { query, host }: Asked): Answer {
  const path = query.get("path") ?? "";
  if (name !== "list") placeOf(project, path);
  const title = path.split("/").at(-1) || "Dialbook";
  const config = {
    baseUrl: `http://${host}/`,
    wsUrl: `ws://${host}/`,
    appUrl: "/",
    token: "",
    page: name,
    path,
    version,
    project: project.split(/[\\/]/).at(-1),
  };
  const style = existsSync(join(pageFolder, `${name}.css`))
    ? `<link rel="stylesheet" href="${assetAddress(pageFolder, `${name}.css`)}">`
    : "";
  return {
    type: "text/html; charset=utf-8",
    body: `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width,initial-scale=1">
<title>${html`${title}`.markup}</title>
<script type="application/json" id="jupyter-config-data">${JSON.stringify(config).replaceAll("<", "\\u003c")}</script>
${style}
<script src="${assetAddress(pageFolder, `${name}.js`)}" defer></script>
</head>
<body><noscript>This page needs scripts, which its own server sends.</noscript></body>
</html>
`,
  };
}

/** What a browser shows that was not let in, or asked for what is not there. */
export function sentencePage(sentence: string): Answer {
  return {
    type: "text/html; charset=utf-8",
    body: `<!doctype html>
<html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1">
<title>Dialbook</title><style>body{font:1rem/1.5 system-ui,sans-serif;max-width:40rem;margin:3rem auto;padding:0 1rem;color-scheme:light dark}</style></head>
<body><h1>Not shown</h1><p>${html`${sentence[0]?.toUpperCase()}${sentence.slice(1)}.`.markup}</p></body></html>
`,
  };
}
