import { execFileSync, spawnSync } from "node:child_process";
import {
  chmodSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { join } from "node:path";
import { afterAll, afterEach, beforeAll, describe, expect, it } from "vitest";
import { project as repository } from "../kernel/workplace.js";
import { browserIsThere } from "./chromium.js";
import {
  cell,
  cellsIn,
  isSaved,
  kernel,
  LivePages,
  notice,
  patient,
  placeOf,
  run,
  saved,
  write,
} from "./live-pages.js";

const isThere = browserIsThere();

describe.skipIf(!isThere)("files on the live page", { timeout: 240_000 }, () => {
  let live: LivePages;

  beforeAll(async () => {
    live = await LivePages.start("live-files");
  }, 400_000);

  afterAll(() => live?.stop());

  afterEach(async () => {
    await live.closePages();
    expect(live.forbidden).toEqual([]);
    live.trouble.length = 0;
  });

  it("begins a survey from the form, tells what is wrong in it, and opens the notebook, which runs", async () => {
    const page = await live.tab("/");
    await page.getByRole("button", { name: "New measurement" }).click();
    const fill = (name: string, value: string) => page.locator(`dialog [name="${name}"]`).fill(value);
    await fill("name", "shed-mill");
    await fill("table", "big");
    await fill("resolution", "2 um");
    await fill("error", "4 um");
    await page.getByRole("button", { name: "Make them" }).click();
    await page.locator("dialog .problem", { hasText: 'table "big" is not length × depth' }).waitFor(patient);
    expect(existsSync(live.file("shed-mill"))).toBe(false);
    await fill("table", "520 mm x 230 mm");
    await page.getByRole("button", { name: "Make them" }).click();
    await page.waitForURL(/notebook\?path=notebooks%2Fshed-mill\.ipynb/, patient);
    await page.waitForSelector("body[data-ready]", patient);
    await kernel(page, "ready");
    const code = cellsIn(live.onDisk("shed-mill")).filter(({ outputs }) => outputs).length;
    await page.click("[data-action=runAll]");
    await page.locator(`.jp-InputPrompt:text-is("[${code}]:")`).waitFor({ timeout: 120_000 });
    await kernel(page, "ready");
    expect(readdirSync(join(live.project, "data")).filter((name) => name.startsWith("shed-mill"))).toEqual([
      "shed-mill-paper.html",
      "shed-mill.csv",
    ]);
    expect(live.trouble).toEqual(["Failed to load resource: the server responded with a status of 400 (Bad Request)"]);
    await page.close();
  });

  it("asks for what the work chosen needs, and begins it", async () => {
    const page = await live.tab("/");
    await page.getByRole("button", { name: "New measurement" }).click();
    const field = (name: string) => page.locator(`dialog [name="${name}"]`);
    await field("for").selectOption("levels");
    expect(
      await page.locator("dialog .asked input").evaluateAll((all) => all.map((one) => (one as HTMLInputElement).name)),
    ).toEqual(["name", "machine", "table", "foot", "resolution", "error"]);
    await field("for").selectOption("head");
    await field("name").fill("shed-head");
    await field("radius").fill("100 mm");
    await field("resolution").fill("2 um");
    await field("error").fill("4 um");
    await page.getByRole("button", { name: "Make them" }).click();
    await page.waitForURL(/notebook\?path=notebooks%2Fshed-head\.ipynb/, patient);
    expect(existsSync(live.file("shed-head"))).toBe(true);
    await page.close();
  });

  it("renames a file, not onto another; removes one, and brings it back", async () => {
    live.write("draft", "1 + 1");
    live.write("other", "2 + 2");
    const page = await live.tab("/");
    const act = (what: string, path: string) =>
      page.getByRole("button", { name: `${what} ${path}`, exact: true }).click();
    const rename = async (name: string): Promise<void> => {
      await act("Rename", "draft.ipynb");
      await page.locator("dialog input").fill(name);
      await page.locator("dialog").getByRole("button", { name: "Rename" }).click();
    };
    await rename("other");
    await notice(page, "file").waitFor(patient);
    expect(await notice(page, "file").textContent()).toContain(
      "draft.ipynb was not renamed: notebooks/other.ipynb: is there already; choose another name, nothing was renamed",
    );
    await rename("table of the shed");
    await page.locator('[data-path="notebooks/table of the shed.ipynb"]').waitFor(patient);
    await notice(page, "file").waitFor({ state: "detached", ...patient });
    expect([live.sources("table of the shed"), live.sources("other")]).toEqual([["1 + 1"], ["2 + 2"]]);

    await act("Remove", "other.ipynb");
    await page.locator("dialog").getByRole("button", { name: "Leave it" }).click();
    await act("Remove", "other.ipynb");
    await page.locator("dialog").getByRole("button", { name: "Remove" }).click();
    await page.locator('[data-removed="notebooks/other.ipynb"]').waitFor(patient);
    await page.locator('[data-path="notebooks/other.ipynb"]').waitFor({ state: "detached", ...patient });
    expect(existsSync(live.file("other"))).toBe(false);
    live.write("other", "in its place");
    await act("Bring back", "notebooks/other.ipynb");
    await notice(page, "file").waitFor(patient);
    expect(await notice(page, "file").textContent()).toContain(
      "notebooks/other.ipynb: is there again; rename that one first, nothing was brought back",
    );
    rmSync(live.file("other"));
    await act("Bring back", "notebooks/other.ipynb");
    await page.getByRole("heading", { name: "Removed" }).waitFor({ state: "hidden", ...patient });
    await page.locator('[data-path="notebooks/other.ipynb"]').waitFor(patient);
    expect(live.sources("other")).toEqual(["2 + 2"]);
    await page.close();
  });

  it("lets a press of the mouse be one where the list is loaded anew in the middle of it", async () => {
    live.write("pressed", "1 + 1");
    const page = await live.tab("/");
    const place = await placeOf(page.getByRole("button", { name: "Rename pressed.ipynb", exact: true }));
    await page.mouse.move(place.x + place.width / 2, place.y + place.height / 2);
    await page.mouse.down();
    // what a window does that comes to the front, and another file that came meanwhile
    live.write("zz-later", "2 + 2");
    await page.evaluate(() => dispatchEvent(new Event("focus")));
    await page.locator('[data-path="notebooks/zz-later.ipynb"]').waitFor(patient);
    await page.mouse.up();
    await page.locator("dialog h2", { hasText: "Rename pressed.ipynb" }).waitFor(patient);
    await page.close();
  });

  it("hands a notebook on as one page, with what was not saved yet", async () => {
    const page = await live.ready("handed-on", "1 + 1");
    await run(page, 0, "6 * 7", "42");
    const [download] = await Promise.all([
      page.waitForEvent("download", patient),
      page.getByRole("button", { name: "Report" }).click(),
    ]);
    expect(download.suggestedFilename()).toBe("handed-on.html");
    const text = readFileSync(await download.path(), "utf8");
    expect(text).toContain("42");
    expect(text).toContain("handed-on.ipynb keeps");
    expect(live.trouble).toEqual([]);
    await page.close();
  });

  it("hands on a page to print out of somebody else's notebook only where nothing in it can run", async () => {
    const link = (document: string, name = "card.html") =>
      `<div class="dialbook"><p><a download="${name}" href="data:text/html;base64,${Buffer.from(document).toString("base64")}">save ${name}</a></p><iframe sandbox="" srcdoc="${document.replaceAll('"', "&quot;")}" title="a"></iframe></div>`;
    const quiet = "<!doctype html><html><body><p>the card</p></body></html>";
    const hostile = [
      link("<p>card</p><script>parent.hurt=1</script>"),
      link('<p>card</p><img src="x" onerror="parent.hurt=1">'),
      link('<meta http-equiv="refresh" content="0;url=https://elsewhere.example/">'),
      link(quiet, "card.hta"),
      `<a download="card.html" href="data:text/html,<script>hurt=1</script>">save card.html</a>`,
    ];
    const outputs = [...hostile, link(quiet)].map((markup) => ({
      output_type: "display_data",
      data: { "text/html": markup, "text/plain": "a card" },
      metadata: { dialbook: true },
    }));
    const cells = [{ cell_type: "code", id: "a", metadata: {}, source: "card", execution_count: 1, outputs }];
    writeFileSync(live.file("theirs"), JSON.stringify({ cells, metadata: {}, nbformat: 4, nbformat_minor: 5 }));
    const page = await live.open("notebooks/theirs.ipynb");
    await page.locator("a[download]").waitFor(patient);
    const refused = page.getByText("(not handed on: this page to print is not as dialbook makes it");
    await expect.poll(() => refused.count(), patient).toBe(5);
    const kept = await page.locator(".jp-OutputArea a[href]").evaluateAll((all) => all.map((one) => one.outerHTML));
    expect(kept).toHaveLength(1);
    // outputs that are drawn above it would take it away from under the mouse
    await placeOf(page.locator("a[download]"));
    const [download] = await Promise.all([page.waitForEvent("download", patient), page.locator("a[download]").click()]);
    expect([download.suggestedFilename(), readFileSync(await download.path(), "utf8")]).toEqual(["card.html", quiet]);
    await expect.poll(() => page.locator('iframe.live-sheet[sandbox=""]').count(), patient).toBe(5);
    expect(await page.evaluate(() => Reflect.get(globalThis, "hurt"))).toBeUndefined();
    await page.close();
  });

  it("brings an earlier version back, and takes that back", async () => {
    const page = await live.ready("versions", "first");
    const shown = () => cell(page, 0).locator(".cm-content").textContent();
    await write(page, 0, "second");
    await saved(page);
    await write(page, 0, "third");
    await saved(page);
    await write(page, 0, "not saved yet");
    await page.getByRole("button", { name: "Versions" }).click();
    const rows = page.locator("dialog.versions li");
    // the first was kept when the notebook was opened
    await expect.poll(() => rows.count(), patient).toBe(3);
    await rows.nth(1).getByRole("button").click();
    await expect.poll(shown, patient).toBe("second");
    expect(live.sources("versions")).toEqual(["second"]);
    await notice(page, "versions").getByText("Take that back").click();
    await expect.poll(shown, patient).toBe("not saved yet");
    expect(live.sources("versions")).toEqual(["not saved yet"]);
    await write(page, 0, "and on");
    await saved(page);
    expect(live.sources("versions")).toEqual(["and on"]);
    expect(live.trouble).toEqual([]);
    await page.close();
  });

  it.skipIf(process.platform === "win32")("says that a folder is read-only, and saves once it is not", async () => {
    const page = await live.ready("locked", "before");
    const folder = join(live.project, "notebooks");
    const asRoot = process.getuid?.() === 0;
    await write(page, 0, "mine");
    chmodSync(live.project, 0o755);
    chmodSync(folder, 0o555);
    // the administrator may write everywhere: the server is somebody else meanwhile
    if (asRoot) process.seteuid?.(65534);
    try {
      await page.keyboard.press("Control+S");
      await notice(page, "save").waitFor(patient);
    } finally {
      if (asRoot) process.seteuid?.(0);
      chmodSync(folder, 0o755);
    }
    expect(await notice(page, "save").textContent()).toContain("the folder or the file may not be written to");
    expect([live.sources("locked"), await page.locator(".saved").textContent()]).toEqual([["before"], "not saved yet"]);
    await notice(page, "save").getByText("Try again").click();
    await isSaved(page);
    await notice(page, "save").waitFor({ state: "detached", ...patient });
    expect(live.sources("locked")).toEqual(["mine"]);
    await page.close();
  });
});

const smallDisks = join(repository, "build", "test");

/** Makes a small disk of its own, which only the administrator of a Linux machine can. @returns its folder */
function smallDisk(): string {
  if (process.platform !== "linux" || process.getuid?.() !== 0)
    throw new Error("only root on Linux can make a small disk");
  mkdirSync(smallDisks, { recursive: true });
  const folder = mkdtempSync(join(smallDisks, "small-disk-"));
  const made = spawnSync("mount", ["-t", "tmpfs", "-o", "size=2m", "tmpfs", folder], { encoding: "utf8" });
  if (made.status === 0) return folder;
  rmSync(folder, { recursive: true });
  throw new Error(`a small disk can't be made here: ${made.stderr?.trim() || made.error?.message}`);
}

function takeAway(folder: string): void {
  execFileSync("umount", [folder]);
  rmSync(folder, { recursive: true });
}

/** false, with the reason printed, where there is no browser or no small disk can be made */
function diskIsThere(): boolean {
  if (!isThere) return false;
  try {
    takeAway(smallDisk());
    return true;
  } catch (error) {
    console.warn(`skipped: a disk that is full, ${(error as Error).message}`);
    return false;
  }
}

describe.skipIf(!diskIsThere())("a disk that is full", { timeout: 240_000 }, () => {
  let live: LivePages;
  let folder: string;

  beforeAll(async () => {
    folder = smallDisk();
    live = await LivePages.start("full", folder);
  }, 400_000);

  afterAll(async () => {
    await live?.stop();
    takeAway(folder);
  });

  it("is told when a notebook is saved; the old file is whole, and the text on the page is saved when there is room", async () => {
    live.write("full", "before");
    const page = await live.open("notebooks/full.ipynb");
    const before = live.onDisk("full");
    const filler = join(live.project, "filler");
    expect(() => writeFileSync(filler, Buffer.alloc(3_000_000))).toThrow(/ENOSPC/);
    const text = `const long = "${"x".repeat(20_000)}";`;
    await write(page, 0, text);
    await page.keyboard.press("Control+S");
    await notice(page, "save").waitFor(patient);
    expect(await notice(page, "save").textContent()).toContain("the disk is full; make room");
    expect([live.onDisk("full"), await page.locator(".saved").textContent()]).toEqual([before, "not saved yet"]);
    rmSync(filler);
    await notice(page, "save").getByText("Try again").click();
    await isSaved(page);
    expect(live.sources("full")).toEqual([text]);
    expect(readdirSync(join(live.project, "notebooks")).filter((name) => name.startsWith("."))).toEqual([]);
    await page.close();
  });
});
