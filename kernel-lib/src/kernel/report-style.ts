import { styleSheet } from "../display/style.js";

const dark = "--ink:#e4e6ea;--paper:#16181c;--soft:#a3a8b0;--line:#363a42;--tint:#1e2127;--accent:#86bce2";

/** The look of a page, with that of the outputs. */
export const pageStyle = [
  ":root{--ink:#222;--paper:#fff;--soft:#5f6368;--line:#dcdcd8;--tint:#f6f6f4;--accent:#1c5d8c;color-scheme:light dark}",
  `@media screen and (prefers-color-scheme:dark){:root{${dark}}}`,
  "*{box-sizing:border-box}",
  "body{margin:0;background:var(--paper);color:var(--ink);font:16px/1.55 system-ui,-apple-system,'Segoe UI',Roboto,sans-serif}",
  // prose keeps a line that can be read; a wide table may use the page
  ".page{max-width:1080px;margin:0 auto;padding:24px 20px 48px}",
  ".text p,.text ul,.text ol,.output p,.found,.dialbook .db-quantity{max-width:760px}",
  "header{border-bottom:1px solid var(--line);margin-bottom:20px;padding-bottom:12px}",
  "header p,footer{color:var(--soft);font-size:13px;margin:0}",
  "h1{font-size:27px;line-height:1.25;margin:6px 0 4px}",
  "h2{font-size:20px;margin:34px 0 8px}h3{font-size:17px;margin:26px 0 6px}",
  "main h1{font-size:23px}",
  "p,ul,ol{margin:8px 0}a{color:var(--accent)}",
  "nav{border-bottom:1px solid var(--line);padding-bottom:10px;font-size:14px}nav ol{padding-left:22px;columns:2;column-gap:32px}",
  "nav li{break-inside:avoid}nav .chapters{list-style:none;padding-left:0}nav .chapters>li{margin-bottom:6px}nav ul{list-style:none;margin:2px 0;padding-left:12px;color:var(--soft)}",
  "article+article{border-top:1px solid var(--line);margin-top:40px;padding-top:16px}",
  ".found{background:var(--tint);border-left:3px solid var(--accent);padding:8px 16px;margin:16px 0}.found h2{margin:0;font-size:14px;color:var(--soft)}",
  ".text table{border-collapse:collapse;font-size:14px;font-variant-numeric:tabular-nums;display:block;overflow-x:auto}",
  ".text th,.text td{text-align:left;padding:4px 14px 4px 0;border-bottom:1px solid var(--line);vertical-align:top}",
  ".text th{border-bottom-color:currentColor}",
  "blockquote{margin:8px 0;padding-left:14px;border-left:2px solid var(--line);color:var(--soft)}",
  ".db-whole{white-space:nowrap}",
  "pre,code{font-family:ui-monospace,SFMono-Regular,Menlo,Consolas,monospace;font-size:13px}",
  "pre{overflow-x:auto;margin:6px 0;line-height:1.45}details pre{background:var(--tint);padding:10px 12px}",
  ".text code{background:var(--tint);padding:1px 4px}.text pre code{background:none;padding:0}",
  ".switch{font:inherit;font-size:13px;color:var(--accent);background:none;border:1px solid var(--line);padding:3px 10px;margin-top:8px;cursor:pointer}",
  "details{margin:12px 0 4px}summary{color:var(--soft);font-size:13px;cursor:pointer}",
  ".output{margin:8px 0 14px;overflow-x:auto}.output img{max-width:100%;height:auto}.out-stderr{color:var(--soft)}",
  ".list{list-style:none;padding:0}.list>li{border-bottom:1px solid var(--line);padding:12px 0}",
  ".list h2{margin:0;font-size:17px}.list ul{margin:4px 0;padding-left:20px}.list .failed{color:#a4471a;font-weight:600}",
  "@media screen and (prefers-color-scheme:dark){.list .failed{color:#e8a06a}.dialbook figure{filter:brightness(.9)}}",
  "footer{border-top:1px solid var(--line);margin-top:40px;padding-top:10px;overflow-wrap:anywhere}",
  "@media (max-width:700px){nav ol{columns:1}.page{padding:16px 14px 32px}}",
  "@page{margin:15mm}",
  "@media print{:root{--ink:#000;--paper:#fff;--soft:#444;--tint:#f4f4f4;--line:#bbb;color-scheme:light}.page{max-width:none;padding:0}" +
    "nav,.switch{display:none}summary{list-style:none}details::details-content{content-visibility:visible;display:block;height:auto}.output{overflow:visible}article+article{break-before:page;border:0;margin:0;padding:0}" +
    ".db-live{display:none!important}.dialbook figure img{display:block!important}.dialbook figure{filter:none}" +
    "pre{white-space:pre-wrap;overflow-wrap:anywhere}p,li{orphans:3;widows:3}h1,h2,h3,summary{break-after:avoid}details,.found{break-inside:avoid}a{color:inherit}}",
  styleSheet,
].join("\n");
