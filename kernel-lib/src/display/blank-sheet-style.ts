/** Sizes of a sheet of paper in millimetres, its margin taken off. */
export const papers = {
  A4: { size: "A4", width: 186, height: 273 },
  Letter: { size: "letter", width: 191.9, height: 255.4 },
} as const;

export type Paper = keyof typeof papers;

export const rowHeight = 7.5;
/** room above and below the lists: title of the page, heading of the list, foot of the page */
const listRoom = 28;

export function linesPerColumn(paper: Paper): number {
  return Math.floor((papers[paper].height - listRoom) / rowHeight);
}

/** Black on white, no pictures from elsewhere, nothing that runs. */
export function sheetStyle(paper: Paper): string {
  const { size, width, height } = papers[paper];
  return [
    `@page{size:${size};margin:12mm}`,
    "*{box-sizing:border-box}",
    "body{margin:0;color:#000;background:#fff;font:3.3mm/1.3 system-ui,-apple-system,'Segoe UI',Roboto,'DejaVu Sans',sans-serif}",
    `.page{position:relative;width:${width}mm;height:${height - 0.5}mm;overflow:hidden;break-after:page}`,
    ".page:last-child{break-after:auto}",
    // the margin of the paper is a border, so that a narrower frame scrolls over all of it
    "@media screen{body{background:#777;width:max-content;min-width:100%}.page{box-sizing:content-box;background:#fff;margin:6mm auto;border:12mm solid #fff}.page+.page{margin-top:10mm}}",
    "h1{font-size:5.2mm;margin:0 0 2mm}",
    ".fields{display:grid;grid-template-columns:1fr 1fr;gap:0 6mm}",
    ".field{height:8mm;border-bottom:.25mm solid #000;padding-top:3.6mm}",
    ".known{margin:1.5mm 0;font-size:3mm}",
    ".map svg{display:block;width:100%;max-height:82mm}",
    ".protocol{display:grid;grid-template-columns:1fr 1fr;grid-auto-flow:column;grid-template-rows:repeat(8,10mm);gap:0 6mm;margin-top:2mm}",
    ".protocol div{border-bottom:.25mm solid #000;padding-top:1.3mm;font-size:2.9mm;line-height:3.4mm;white-space:nowrap;overflow:hidden}",
    ".protocol b{font-size:3.1mm}",
    ".db-caution{border:.5mm solid #000;padding:1.2mm 2.5mm;margin:0 0 2mm;font-size:3mm;line-height:1.25}",
    ".db-caution p{margin:0}.db-caution ul{margin:.5mm 0 0;padding-left:4mm}",
    `.lists{display:grid;grid-template-columns:1fr 1fr;gap:0 4mm;align-items:start}`,
    "table.list{width:100%;border-collapse:collapse;table-layout:fixed}",
    ".run-no{width:8mm}.target{width:19mm}.seen{width:28mm}",
    ".protocol.wide{grid-template-columns:1fr;grid-template-rows:none;grid-auto-flow:row;grid-auto-rows:10mm}",
    "table.form{table-layout:auto}.form td,.form th{padding:0 1.2mm}.form td.write{min-width:22mm}",
    ".no{width:15mm}.place{width:15mm}.xy{width:10.5mm}",
    `.list tr{height:${rowHeight}mm}`,
    ".list th{font-size:2.7mm;font-weight:600;text-align:left;padding:0 .6mm;vertical-align:bottom;border-bottom:.5mm solid #000;white-space:nowrap}",
    ".list td{padding:0 .6mm;border-bottom:.2mm solid #000;font-size:3.1mm;white-space:nowrap;font-variant-numeric:tabular-nums}",
    ".list td.write{border:.2mm solid #000}",
    ".list tr.row td{border-top:.6mm solid #000}",
    ".list tr.pass td{font-weight:700;border-top:.6mm solid #000}",
    ".list tr.datum td{font-size:2.8mm}",
    ".list tr.state i{display:inline-block;width:22mm;border-bottom:.25mm solid #000;height:4.5mm}",
    ".foot{position:absolute;bottom:0;left:0;right:0;display:flex;justify-content:space-between;font-size:2.8mm}",
  ].join("");
}
