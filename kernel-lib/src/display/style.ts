/** The one look, as a style sheet that travels with every output. The ink is the page's own, so that nothing becomes
 * unreadable where the theme of the page is not known; the notebook page of old has no dark theme and is left light. */

const dark =
  "--db-accent:#86bce2;--db-warm:#e8a06a;--db-tint:rgba(134,188,226,.10);--db-warm-tint:rgba(232,160,106,.12)";

const rules = [
  ".dialbook{--db-accent:#1c5d8c;--db-warm:#a4471a;--db-tint:rgba(28,93,140,.06);--db-warm-tint:rgba(164,71,26,.07);" +
    "--db-line:color-mix(in srgb,currentColor 22%,transparent);--db-soft:color-mix(in srgb,currentColor 70%,transparent);" +
    "font-family:system-ui,-apple-system,'Segoe UI',Roboto,sans-serif;font-size:14px;line-height:1.45;color:inherit;max-width:100%}",
  `@media screen and (prefers-color-scheme:dark){body:not(.notebook_app):not([data-jp-theme-light="true"]):not(.vscode-light) .dialbook{${dark}}}`,
  `@media screen{body[data-jp-theme-light="false"] .dialbook,body.vscode-dark .dialbook{${dark}}}`,
  ".dialbook>*+*{margin-top:10px}",
  ".dialbook p{margin:0 0 4px}",
  ".dialbook .db-scroll+p{margin-top:5px}",
  ".dialbook .db-scroll{overflow-x:auto}",
  // a table that is wider than the page fades out on its right until it is scrolled to its end
  "@supports (animation-timeline:scroll()){.dialbook .db-scroll{animation:db-more linear;animation-timeline:scroll(self inline)}" +
    "@keyframes db-more{0%,95%{mask-image:linear-gradient(to right,#000 calc(100% - 32px),transparent)}100%{mask-image:none}}}",
  ".dialbook table{border-collapse:collapse;border:0;margin:0;font-size:inherit;font-variant-numeric:tabular-nums;color:inherit}",
  ".dialbook caption{caption-side:top;text-align:left;font-weight:600;padding:0 0 6px;color:inherit}",
  ".dialbook th,.dialbook td{padding:4px 14px 4px 0;border:0;border-bottom:1px solid var(--db-line);text-align:left;vertical-align:baseline;" +
    "background:none;font-weight:400;max-width:none;white-space:normal}",
  ".dialbook tr{background:none!important}",
  ".dialbook thead th{font-weight:600;border-bottom:1px solid currentColor;vertical-align:bottom}",
  ".dialbook th:last-child,.dialbook td:last-child{padding-right:2px}",
  ".dialbook .db-right{text-align:right;white-space:nowrap}",
  ".dialbook thead th.db-right{white-space:normal}",
  ".dialbook .db-short,.dialbook .db-pair,.dialbook .db-whole{white-space:nowrap}",
  ".dialbook tfoot th,.dialbook tfoot td{font-weight:600;border-bottom:0;border-top:1px solid currentColor}",
  ".dialbook .db-unit{font-weight:400;color:var(--db-soft)}",
  ".dialbook .db-notes{color:var(--db-soft);font-size:13px}",
  ".dialbook .db-caution,.dialbook .db-error{border-left:3px solid var(--db-warm);background:var(--db-warm-tint);padding:8px 12px;max-width:642px}",
  ".dialbook .db-caution ul{margin:4px 0 0;padding:0 0 0 18px}",
  ".dialbook .db-caution li{margin:2px 0}",
  ".dialbook .db-word{color:var(--db-warm);font-weight:700}",
  ".dialbook .db-finding{border-left:3px solid var(--db-accent);background:var(--db-tint);padding:8px 12px;max-width:642px;font-size:16px}",
  ".dialbook .db-where{color:var(--db-soft);font-family:ui-monospace,Menlo,Consolas,monospace;font-size:12.5px}",
  ".dialbook .db-error p{overflow-wrap:anywhere}",
  ".dialbook .db-error pre{color:var(--db-soft);font-size:12px;white-space:pre-wrap;overflow-wrap:anywhere;margin:6px 0 0;background:none;border:0;padding:0}",
  ".dialbook .db-listing{font-family:ui-monospace,Menlo,Consolas,monospace;font-size:12px;line-height:1.35;max-height:340px;overflow:auto;" +
    "border:1px solid var(--db-line);padding:8px 12px;max-width:642px;margin:0;background:none;color:inherit;white-space:pre}",
  ".dialbook .db-quantity{font-variant-numeric:tabular-nums}",
  ".dialbook figure{margin:0;max-width:642px;background:#fff;color:#222;border:1px solid #d9d9d6}",
  ".dialbook figure img{display:block;width:100%;height:auto}",
  // on a phone the picture waits to be touched (its title is set by the script that draws it), and says so
  ".dialbook figure[title]::after{content:attr(title);display:block;padding:0 8px 5px;color:#5f6368;font-size:12px}",
  // the caption of a table that is wider than the page keeps to what is seen, and stays there while the table is scrolled
  "@media (max-width:760px){.dialbook table{font-size:12.5px}.dialbook th,.dialbook td{padding-right:7px}" +
    ".dialbook caption{position:sticky;left:0;max-width:calc(100vw - 76px)}}",
  "@media (max-width:480px){.dialbook .db-pair{white-space:normal}.dialbook table{font-size:12px}.dialbook th,.dialbook td{padding-right:6px}" +
    // text keeps a line of some words; the table is then wider than the page, and scrolled
    ".dialbook td:not(.db-right):not(.db-short),.dialbook tbody th:not(.db-right):not(.db-short){min-width:112px}}",
  ".dialbook progress{accent-color:var(--db-accent);width:180px;vertical-align:middle;margin:0 8px}",
  // paper is narrower than a screen: smaller letters keep a wide table on it, and no row is cut by the end of a page
  "@media print{.dialbook table,.dialbook tr,.dialbook figure,.dialbook .db-caution,.dialbook .db-finding{break-inside:avoid}" +
    ".dialbook table{font-size:11.5px}.dialbook th,.dialbook td{padding-right:12px}.dialbook table:has(th:nth-child(8)) :is(th,td){padding-right:6px}" +
    ".dialbook figure[title]::after{content:none}" +
    // a sheet or a card in its frame is a page of its own, made small enough for the margins of this one
    ".dialbook iframe{display:block;width:193mm!important;max-width:none!important;height:274mm!important;border:0!important;" +
    "transform:scale(.9);transform-origin:0 0;margin:0 -20mm -28mm 0;break-before:page;break-inside:avoid}" +
    ".dialbook .db-scroll,.dialbook .db-listing{overflow:visible;max-height:none;animation:none}.dialbook{color:#000}.dialbook thead{display:table-header-group}}",
];

export const styleSheet = rules.join("");

/** the style element of an output; a report takes it out of each output and carries it once */
export const styleTag = `<style>${styleSheet}</style>`;
