import { hostile, hostileTexts } from "../hostile.js";

/** what somebody who forges a notebook would try to have taken for ours */
const forged = [
  `<div class="dialbook"><script>window.hurt=1</script></div>`,
  `<div class="dialbook"><img src=x onerror="window.hurt=1"></div>`,
  `<div class="dialbook"><meta http-equiv="refresh" content="0;url=https://elsewhere.example/"></div>`,
  `<div class="dialbook"><iframe srcdoc="<script>parent.hurt=1</script>"></iframe></div>`,
  `<div class="dialbook"><a href="javascript:window.hurt=1">look</a></div>`,
  `<div class="dialbook"><style>body{background:url(https://elsewhere.example/pixel.png)}</style></div>`,
  `<figure data-dialbook-figure="a" data-spec='{"data":[],"layout":{"height":300,"images":[{"source":"https://elsewhere.example/pixel.png"}]}}'><img alt="a" src="https://elsewhere.example/pixel.png"></figure>`,
  `<form action="https://elsewhere.example/"><input name="a" autofocus onfocus="window.hurt=1"></form>`,
];

/** A figure as ours is, with hostile words where plotly takes mark-up. */
const words = JSON.stringify({
  data: [{ type: "scatter", x: [1, 2], y: [1, 2], text: [hostile, "b"], customdata: [hostile, "b"] }],
  layout: { height: 300, title: { text: `<a href="javascript:window.hurt=1">${hostile}</a>` } },
});
const figure = `<div class="dialbook"><figure data-dialbook-figure="b" data-spec='${words
  .replace(/[^ -;=?-~]/g, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, "0")}`)
  .replaceAll("&", "&amp;")
  .replaceAll("'", "&#39;")}'><img alt="b" src="data:image/svg+xml;base64,PHN2Zy8+"></figure></div>`;

/** A notebook file with everything in it that a page could trip over. */
export function hostileNotebook(): string {
  const texts = Object.values(hostileTexts);
  const markdown = [
    `# ${hostile.replaceAll("\r", " ")}`,
    ...texts,
    ...texts.map((text) => `[${text}](${text})`),
    ...texts.map((text) => `![${text}](attachment:${text})`),
    "![a](attachment:a) ![b](attachment:__proto__) ![c](data:text/html,<script>window.hurt=1</script>)",
    "<details open ontoggle=window.hurt=1><summary>x</summary></details>",
    "[a](\\\\\\\\elsewhere.example/x) [b](/\\\\elsewhere.example) [c](file:///etc/passwd) [d](vbscript:x)",
    '[e][f]\n\n[f]: javascript:window.hurt=1 "t"',
    "<https://elsewhere.example/<script>>",
    `| a | b |\n|---|---|\n| ${hostileTexts["a picture with a handler"]} | b |`,
    "```html <script>window.hurt=1</script>\n</code></pre><script>window.hurt=1</script>\n```",
  ].join("\n\n");
  const data = { "text/plain": [hostile], "application/javascript": "window.hurt=1" };
  const shown = (html: string) => ({
    output_type: "display_data",
    data: { ...data, "text/html": [html] },
    metadata: { dialbook: true },
  });
  const cells = [
    {
      cell_type: "markdown",
      metadata: { tags: 5, __proto__: hostile },
      source: markdown,
      attachments: { a: { "image/svg+xml": "<svg onload='x'/>", "text/html": hostile, "image/png": `"${hostile}` } },
    },
    { cell_type: "raw", metadata: { format: "text/html", raw_mimetype: "text/html" }, source: hostile },
    {
      cell_type: "code",
      metadata: { tags: hostile, collapsed: hostile },
      source: hostile,
      execution_count: 1,
      outputs: [
        ...[...forged, figure].map(shown),
        { output_type: "display_data", data: { "text/html": forged[0] }, metadata: {} },
        {
          output_type: "display_data",
          data: {
            "image/svg+xml": `<svg xmlns="http://www.w3.org/2000/svg" onload="window.hurt=1"><script>window.hurt=1</script></svg>`,
            "text/plain": hostile,
          },
          metadata: {},
        },
        {
          output_type: "display_data",
          data: { "image/png": '"><script>window.hurt=1</script>', "text/plain": hostile },
          metadata: {},
        },
        {
          output_type: "display_data",
          data: { "application/vnd.dialbook.finding+json": { text: hostile } },
          metadata: {},
        },
        { output_type: "stream", name: hostile, text: hostile },
        { output_type: "error", ename: hostile, evalue: hostile, traceback: [hostile, `\u001b[31m${hostile}`] },
      ],
    },
  ];
  const metadata = {
    title: hostile,
    kernelspec: { name: hostile, display_name: hostile, language: hostile },
    language_info: { name: hostile, file_extension: hostile },
    widgets: hostile,
  };
  return JSON.stringify({ cells, metadata, nbformat: 4, nbformat_minor: 5 });
}
