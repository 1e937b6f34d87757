import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, BrowserContext, Locator, Page } from "playwright-core";
import { LiveServer } from "../../kernel-lib/src/kernel/live/live-server.js";
import { notebookOf } from "../kernel/live/a-server.js";
import { built, project as repository } from "../kernel/workplace.js";
import { openBrowser, patient } from "./chromium.js";

export { patient };
export const chapter = "notebooks/05-the-table-as-found.ipynb";

/** A server of the live page over a folder of its own, with real kernels, and a browser that was let in. */
export class LivePages {
  /** what pages complained of */
  readonly trouble: string[] = [];
  /** what was asked of another host, and what the page's policy forbade: never anything, whatever a journey does */
  readonly forbidden: string[] = [];

  private constructor(
    readonly project: string,
    readonly server: LiveServer,
    private readonly browser: Browser,
    readonly context: BrowserContext,
  ) {}

  /** @param folder where the project is made; below the repository, so that its cells find the package, where left out */
  static async start(name: string, folder = join(repository, "build", "test")): Promise<LivePages> {
    built();
    mkdirSync(folder, { recursive: true });
    const project = mkdtempSync(join(folder, `${name}-`));
    cpSync(join(repository, "data"), join(project, "data"), { recursive: true });
    mkdirSync(join(project, "notebooks"));
    cpSync(join(repository, chapter), join(project, chapter));
    const server = await LiveServer.start({ project, pageFolder: join(repository, "kernel-lib", "dist", "page") });
    const browser = await openBrowser();
    const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
    context.setDefaultTimeout(patient.timeout);
    await context.addInitScript(waitForTests, byItself);
    const page = await context.newPage();
    await page.goto(server.address());
    await page.close();
    return new LivePages(project, server, browser, context);
  }

  /** What one test left open, a test that failed as a rule, is no trouble of the next. */
  async closePages(): Promise<void> {
    for (const page of this.context.pages()) await page.close();
  }

  async stop(): Promise<void> {
    await this.browser.close();
    await this.server.stop();
    rmSync(this.project, { recursive: true, force: true });
  }

  get base(): string {
    return `http://127.0.0.1:${this.server.port}`;
  }

  /** a fresh tab at an address of the server, with everything in it watched */
  async tab(address: string, before?: (page: Page) => Promise<unknown>): Promise<Page> {
    const page = await this.context.newPage();
    await before?.(page);
    page.on("pageerror", (error) => this.trouble.push(String(error)));
    page.on("console", (message) => {
      if (message.type() === "error") this.trouble.push(message.text());
      if (/Content.Security.Policy|unsafe-eval/i.test(message.text())) this.forbidden.push(message.text());
    });
    page.on("request", (request) => {
      const ours = request.url().startsWith(`${this.base}/`) || /^(?:blob|data):/.test(request.url());
      if (!ours) this.forbidden.push(request.url());
    });
    page.on("websocket", (line) => {
      if (!line.url().startsWith(`${this.base.replace("http", "ws")}/`)) this.forbidden.push(line.url());
    });
    await page.goto(`${this.base}${address}`);
    await page.waitForSelector("body[data-ready]", patient);
    return page;
  }

  async open(path: string, before?: (page: Page) => Promise<unknown>): Promise<Page> {
    const page = await this.tab(`/notebook?path=${encodeURIComponent(path)}`, before);
    await drawn(page, cellsIn(readFileSync(join(this.project, path), "utf8")).length);
    return page;
  }

  /** a notebook of one's own, open with a kernel that is ready */
  async ready(name: string, ...sources: readonly string[]): Promise<Page> {
    this.write(name, ...sources);
    const page = await this.open(`notebooks/${name}.ipynb`);
    await kernel(page, "ready");
    return page;
  }

  /** writes a notebook of one's own */
  write(name: string, ...sources: readonly string[]): void {
    writeFileSync(this.file(name), notebookOf(...sources));
  }

  file(name: string): string {
    return join(this.project, `notebooks/${name}.ipynb`);
  }

  onDisk(name: string): string {
    return readFileSync(this.file(name), "utf8");
  }

  sources(name: string): string[] {
    return cellsIn(this.onDisk(name)).map(({ source }) => [source].flat().join(""));
  }
}

interface CellOnDisk {
  readonly source: string | readonly string[];
  readonly outputs?: readonly unknown[];
}

export function cellsIn(text: string): readonly CellOnDisk[] {
  return (JSON.parse(text) as { readonly cells: readonly CellOnDisk[] }).cells;
}

/** cells are put in while nothing else is to be done, and what stands below moves then; of very many those in view */
async function drawn(page: Page, cells: number): Promise<void> {
  if (cells <= 200)
    await page
      .locator(".jp-Notebook .jp-Cell")
      .nth(cells - 1)
      .waitFor({ state: "attached" });
}

/** Where a thing stands once it stands still, for a mouse that knows places only. */
export async function placeOf(thing: Locator): Promise<{ x: number; y: number; width: number; height: number }> {
  let last = "";
  for (;;) {
    await thing.scrollIntoViewIfNeeded(patient);
    const box = await thing.boundingBox(patient);
    if (box && JSON.stringify(box) === last) return box;
    last = JSON.stringify(box);
    await new Promise((resolve) => setTimeout(resolve, 200));
  }
}

const byItself = "actsByItself";

/**
 * What a page does by itself every so many seconds, saving what was written and looking at the disk, would come between
 * any two steps of a test: it waits until a test lets the time pass.
 */
function waitForTests(name: string): void {
  const acts: (() => void)[] = [];
  Reflect.set(globalThis, name, acts);
  const every = setInterval;
  const given = (act: () => void, ms: number) => (ms < 10_000 ? every(act, ms) : acts.push(act) && 0);
  Reflect.set(globalThis, "setInterval", given);
}

export const letTimePass = (page: Page): Promise<void> =>
  page.evaluate((name) => {
    for (const act of Reflect.get(globalThis, name) as (() => void)[]) act();
  }, byItself);

export const kernel = (page: Page, word: string): Promise<void> =>
  page.locator(`.kernel:text-is("kernel ${word}")`).waitFor(patient);
export const cell = (page: Page, at: number): Locator => page.locator(".jp-Notebook .jp-Cell").nth(at);
export const press = (page: Page, action: string): Promise<void> => page.click(`[data-action=${action}]`);
export const notice = (page: Page, subject: string): Locator => page.locator(`.notice[data-subject=${subject}]`);

/** replaces the text of a cell as a person does */
export async function write(page: Page, at: number, text: string): Promise<void> {
  await cell(page, at).locator(".cm-content").click();
  await cell(page, at).locator(".cm-content:focus").waitFor(patient);
  await page.keyboard.press("Control+A");
  await page.keyboard.insertText(text);
}

export async function run(page: Page, at: number, text: string, answer: string): Promise<void> {
  await write(page, at, text);
  await page.keyboard.press("Control+Enter");
  await output(page, at, answer).waitFor(patient);
}

export const output = (page: Page, at: number, text: string): Locator =>
  cell(page, at).locator(".jp-OutputArea-output", { hasText: text }).first();

export async function saved(page: Page): Promise<void> {
  await page.keyboard.press("Control+S");
  await isSaved(page);
}

export const isSaved = (page: Page): Promise<void> => page.locator(".saved:not(.dirty)").waitFor(patient);
