import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, BrowserContext, Locator, Page } from "playwright-core";
import { LiveServer } from "../../kernel-lib/src/kernel/live/live-server.js";
import { notebookOf } from "../kernel/live/a-server.js";
import { built, project as repository } from "../kernel/workplace.js";
import { openBrowser } from "./chromium.js";

export const patient = { timeout: 60_000 };
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
    const page = await context.newPage();
    await page.goto(server.address());
    await page.close();
    return new LivePages(project, server, browser, context);
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

  open(path: string, before?: (page: Page) => Promise<unknown>): Promise<Page> {
    return this.tab(`/notebook?path=${encodeURIComponent(path)}`, before);
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

export const kernel = (page: Page, word: string): Promise<void> =>
  page.locator(`.kernel:text-is("kernel ${word}")`).waitFor(patient);
export const cell = (page: Page, at: number): Locator => page.locator(".jp-Notebook .jp-Cell").nth(at);
export const press = (page: Page, action: string): Promise<void> => page.click(`[data-action=${action}]`);
export const notice = (page: Page, subject: string): Locator => page.locator(`.notice[data-subject=${subject}]`);

/** replaces the text of a cell as a person does */
export async function write(page: Page, at: number, text: string): Promise<void> {
  await cell(page, at).locator(".cm-content").click();
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
  await page.locator(".saved:not(.dirty)").waitFor(patient);
}
