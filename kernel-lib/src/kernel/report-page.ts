import { createHash } from "node:crypto";
import { type Html, html } from "../display/html.js";
import { packedPlotly, plotlyBanner } from "../display/package-files.js";
import { drawScript, loaderFunction } from "../display/plotly-script.js";
import { pageStyle } from "./report-style.js";

/** One switch for the code of the whole page, put there by the script itself so that none stands dead without scripts. */
const codeSwitch = `addEventListener("DOMContentLoaded",function(){var d=document.querySelectorAll("main details");if(!d.length)return;
var b=document.createElement("button"),o=false;b.type="button";b.className="switch";b.textContent="Show all code";
b.onclick=function(){o=!o;b.textContent=o?"Hide all code":"Show all code";d.forEach(function(e){e.open=o})};
document.querySelector("header").append(b)})`;

export interface PageContent {
  readonly title: string;
  /** above the title: where the page belongs */
  readonly above: Html;
  readonly body: Html;
  readonly footer: string;
  readonly live: boolean;
}

const loader = `(${loaderFunction})(window,document,document.getElementById("dialbook-plotly").textContent)`;
const unfold = `${codeSwitch};addEventListener("beforeprint",function(){document.querySelectorAll("details").forEach(function(d){d.open=true})})`;

/**
 * A page that stands alone: one file, no request to any network.
 *
 * Its policy allows the scripts below by their checksums and what they start, and no other: a script that slipped into a
 * label would not run.
 */
export function page({ title, above, body, footer, live }: PageContent): string {
  const scripts = live ? [unfold, loader, drawScript] : [unfold];
  const [first, ...others] = scripts.map((script) => `<script>${script}</script>`);
  return `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="${policy(scripts)}">
<meta name="viewport" content="width=device-width,initial-scale=1">
<title>${html`${title}`.markup}</title>
<style>${pageStyle}</style>
${live ? plotlyPart() : ""}${first}${others[0] ?? ""}
</head>
<body>
<div class="page">
${html`<header><p>${above}</p><h1>${title}</h1></header>${body}<footer>${footer}</footer>`.markup}
</div>
${others[1] ?? ""}
</body>
</html>
`;
}

function policy(scripts: readonly string[]): string {
  const sums = scripts.map((script) => `'sha256-${createHash("sha256").update(script).digest("base64")}'`);
  return [
    "default-src 'none'",
    "img-src data: blob:",
    "style-src 'unsafe-inline'",
    `script-src ${sums.join(" ")} 'strict-dynamic'`,
    "base-uri 'none'",
    "form-action 'none'",
  ].join("; ");
}

/** The plotting script as data, under its own licence notice; the loader unpacks it. */
function plotlyPart(): string {
  const notice = plotlyBanner().replaceAll("--", "–");
  return `<!--\n${notice}\n-->\n<script type="text/plain" id="dialbook-plotly">${packedPlotly()}</script>\n`;
}
