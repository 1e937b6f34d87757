// `npm run bench:page [-- runs [chapter]]`: what a person waits for who opens a chapter on the live page, each time in a
// browser that has never seen it: until the title, the cells and the outputs in view stand and a key is answered; then once
// more in the same browser. One JSON line a view and a summary; ends with 1 where the target is missed. Seconds only mean
// anything on a quiet machine; `browser_cpu_s` is the processor time of the page's own process until then.
import { existsSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";
import { freshBuild } from "./tasks.mjs";

const runs = Number(process.argv[2] ?? 5);
const chapter = process.argv[3] ?? "notebooks/05-the-table-as-found.ipynb";
const target = 3;
const project = fileURLToPath(new URL("../../", import.meta.url));
const program = process.env.CHROMIUM ?? "/usr/bin/chromium";
if (!existsSync(program)) throw new Error(`no browser at ${program}; install Chromium or set CHROMIUM to its path`);
await freshBuild();
const { LiveServer } = createRequire(import.meta.url)(join(project, "kernel-lib/dist/kernel/live/live-server.js"));
const args = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run"];

const server = await LiveServer.start({ project });
const first = [];
const again = [];
try {
  for (let run = 0; run < runs; run++) {
    const browser = await chromium.launch({ executablePath: program, args });
    try {
      const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
      const entry = await context.newPage();
      await entry.goto(server.address());
      await entry.close();
      // what a browser does of its own after its start is not ours
      await new Promise((resolve) => setTimeout(resolve, 3000));
      first.push(await view(browser, context, "first view"));
      again.push(await view(browser, context, "again"));
    } finally {
      await browser.close();
    }
    for (const { id } of server.kernels.all) await server.kernels.end(id);
  }
} finally {
  await server.stop();
}
const middle = (values) => values.toSorted((a, b) => a - b)[values.length >> 1];
const medians = (views) =>
  Object.fromEntries(Object.keys(views[0]).map((key) => [key, middle(views.map((seen) => seen[key]))]));
const summary = { task: "page_stands", chapter, runs, median: medians(first), again: medians(again), target_s: target };
process.stdout.write(`${JSON.stringify({ ...summary, met: summary.median.stands_s < target })}\n`);
process.exitCode = summary.median.stands_s < target ? 0 : 1;

/** one opening; every number in seconds from the moment the address was asked for */
async function view(browser, context, name) {
  const page = await context.newPage();
  await page.addInitScript(watch);
  const devtools = await browser.newBrowserCDPSession();
  const used = await processor(devtools);
  const begun = performance.now();
  await page.goto(`http://127.0.0.1:${server.port}/notebook?path=${encodeURIComponent(chapter)}`, {
    waitUntil: "commit",
  });
  const marks = await page.waitForFunction(() => window.stands, undefined, { timeout: 60_000, polling: 20 });
  const { shown_s, read_s } = await marks.jsonValue();
  // pressed again until it is answered, as a person does
  for (const late = performance.now() + 60_000; !(await page.evaluate(() => window.answered)); ) {
    if (performance.now() > late) throw new Error("no key was answered within a minute");
    await page.keyboard.press("ArrowDown");
  }
  const stands_s = round((await page.evaluate(() => window.answered)) / 1000);
  const browser_cpu_s = round((await processor(devtools)) - used);
  const wall_s = round((performance.now() - begun) / 1000);
  const seen = { read_s, shown_s, stands_s, wall_s, browser_cpu_s };
  process.stdout.write(`${JSON.stringify({ view: name, ...seen })}\n`);
  await page.close();
  return seen;
}

/** seconds of processor time of all pages' processes */
async function processor(devtools) {
  const { processInfo } = await devtools.send("SystemInfo.getProcessInfo");
  return processInfo.filter(({ type }) => type === "renderer").reduce((sum, { cpuTime }) => sum + cpuTime, 0);
}

function round(value) {
  return Number(value.toFixed(2));
}

/** in the page: notes when everything in view stands, and when the key after it is answered */
function watch() {
  const inView = (node) => {
    const { top, bottom, height } = node.getBoundingClientRect();
    return height > 0 && bottom > 0 && top < innerHeight;
  };
  const stands = () => {
    const cells = [...document.querySelectorAll(".jp-Notebook .jp-Cell")].filter(inView);
    const title = document.querySelector(".jp-MarkdownCell h1");
    const last = cells.at(-1);
    const pane = document.querySelector(".jp-WindowedPanel-outer");
    if (!title || !inView(title) || !last || !pane) return false;
    const isFull = last.getBoundingClientRect().bottom >= pane.getBoundingClientRect().bottom - 80;
    const written = cells.every((cell) => cell.querySelector(".jp-RenderedMarkdown :is(h1, p), .cm-line"));
    const outputs = cells.flatMap((cell) => [...cell.querySelectorAll(".jp-OutputArea-child")]).filter(inView);
    const isThere = (output) => output.textContent.trim() !== "" || output.querySelector("img, svg, canvas");
    return isFull && written && outputs.every(isThere);
  };
  const look = () => {
    const active = document.querySelector(".jp-Notebook .jp-Cell.jp-mod-active");
    if (window.stands && active && active !== window.firstActive) {
      window.answered = performance.now();
      return;
    }
    if (!window.stands && stands()) {
      const round = (ms) => Number((ms / 1000).toFixed(2));
      const [script] = performance
        .getEntriesByType("resource")
        .filter(({ name }) => name.includes("/asset/notebook.js"));
      window.firstActive = active;
      window.stands = { shown_s: round(performance.now()), read_s: round(script?.responseEnd ?? 0) };
    }
    requestAnimationFrame(look);
  };
  requestAnimationFrame(look);
}
