import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Locator, Page, WebSocketRoute } from "playwright-core";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { browserIsThere } from "./chromium.js";
import {
  cell,
  cellsIn,
  chapter,
  isSaved,
  kernel,
  LivePages,
  letTimePass,
  notice,
  output,
  patient,
  placeOf,
  press,
  run,
  saved,
  write,
} from "./live-pages.js";

/** cells of the large notebook */
const many = 2000;

/** The first figure of a page that is a surface, in view; figures are drawn as they come into view. */
async function surfaceOn(page: Page): Promise<Locator> {
  const figures = page.locator(".live-figure");
  await figures.first().waitFor(patient);
  for (const figure of await figures.all()) {
    await figure.scrollIntoViewIfNeeded();
    await expect.poll(() => figure.getAttribute("data-drawn"), patient).toBe("yes");
    if ((await figure.locator(".gl-container canvas").count()) > 0) return figure;
  }
  throw new Error("no figure of the page is a surface");
}

/** Goes into the selected cell and writes, once the cursor is there. */
async function enterAndWrite(page: Page, text: string): Promise<void> {
  await page.keyboard.press("Enter");
  await page.locator(".jp-Cell.jp-mod-active .cm-content:focus").waitFor(patient);
  await page.keyboard.insertText(text);
}

describe.skipIf(!browserIsThere())("the notebook on the live page", { timeout: 240_000 }, () => {
  let live: LivePages;

  beforeAll(async () => {
    live = await LivePages.start("live-notebook");
  }, 400_000);

  afterAll(() => live?.stop());

  beforeEach(() => {
    live.trouble.length = 0;
    live.forbidden.length = 0;
  });

  afterEach(async () => {
    await live.closePages();
    expect(live.forbidden).toEqual([]);
  });

  it("opens a chapter within seconds, asks no other host, and leaves the file as it was", async () => {
    const before = readFileSync(join(live.project, chapter), "utf8");
    const started = performance.now();
    const page = await live.open(chapter);
    const seconds = (performance.now() - started) / 1000;
    console.log(`a chapter is there after ${seconds.toFixed(1)} s`);
    expect(await page.locator(".jp-MarkdownCell h1").first().textContent()).toContain("The table as found");
    await page.locator(".jp-OutputArea .dialbook table").first().waitFor(patient);
    await kernel(page, "ready");
    expect(await page.locator(".saved").textContent()).toBe("as on disk");
    expect(readFileSync(join(live.project, chapter), "utf8")).toBe(before);
    expect(live.trouble).toEqual([]);
    await page.close();
  });

  it("runs a chapter again and turns its surface", async () => {
    const page = await live.open(chapter);
    await kernel(page, "ready");
    await press(page, "restartRunAll");
    const count = cellsIn(readFileSync(join(live.project, chapter), "utf8")).filter(({ outputs }) => outputs).length;
    // the numbers of the run before stand there until a cell is asked for
    await page.locator('.jp-InputPrompt:text-is("[*]:")').last().waitFor(patient);
    await page.locator(`.jp-InputPrompt:text-is("[${count}]:")`).waitFor({ timeout: 120_000 });
    await kernel(page, "ready");
    const surface = await surfaceOn(page);
    const eye = () =>
      surface.evaluate((figure) => {
        const plot = figure.querySelector(".js-plotly-plot") as never as {
          _fullLayout: { scene: { _scene: { getCamera(): { eye: { x: number; y: number } } } } };
        };
        return plot._fullLayout.scene._scene.getCamera().eye;
      });
    const before = await eye();
    const box = await placeOf(surface);
    await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2 + 120, box.y + box.height / 2 + 20, { steps: 6 });
    await page.mouse.up();
    await expect.poll(eye, patient).not.toEqual(before);
    expect(live.trouble).toEqual([]);
    await page.close();
  });

  it("keeps what was written and its output over closing and opening", async () => {
    const page = await live.ready("kept", "1 + 1");
    await run(page, 0, "6 * 7", "42");
    await saved(page);
    await page.close();
    expect(live.sources("kept")).toEqual(["6 * 7"]);
    const again = await live.open("notebooks/kept.ipynb");
    await cell(again, 0).locator(".jp-OutputArea-output", { hasText: "42" }).waitFor(patient);
    await expect.poll(() => cell(again, 0).locator(".cm-content").textContent(), patient).toBe("6 * 7");
    // the kernel was left running with the notebook
    await kernel(again, "ready");
    expect(live.trouble).toEqual([]);
    await again.close();
  });

  it("has the keys of Jupyter", async () => {
    const page = await live.ready("keys", "first", "second");
    // they are the notebook's at once
    await page.keyboard.press("j");
    await expect
      .poll(() => cell(page, 1).evaluate((node) => node.classList.contains("jp-mod-active")), patient)
      .toBe(true);
    await cell(page, 0).locator(".cm-content").click();
    await page.keyboard.press("Escape");
    await page.keyboard.press("b");
    await enterAndWrite(page, "between");
    await page.keyboard.press("Escape");
    await page.keyboard.press("a");
    await enterAndWrite(page, "# Title $x^2$");
    for (const key of ["Escape", "m"]) await page.keyboard.press(key);
    await page.keyboard.press("Shift+Enter");
    await cell(page, 1).locator(".jp-RenderedMarkdown .katex").waitFor(patient);
    // what is done within half a second is one step to undo
    await page.waitForTimeout(700);
    for (const key of ["j", "d", "d"]) await page.keyboard.press(key);
    await saved(page);
    expect(live.sources("keys")).toEqual(["first", "# Title $x^2$", "between"]);
    for (const key of ["z", "k"]) await page.keyboard.press(key);
    await saved(page);
    expect(live.sources("keys")).toEqual(["first", "# Title $x^2$", "between", "second"]);
    expect(live.trouble).toEqual([]);
    await page.close();
  });

  it("offers names on Tab and says what one means on Shift-Tab; Escape closes that and not the cell", async () => {
    const page = await live.ready("help", 'import { form } from "dialbook";');
    await page.keyboard.press("Escape");
    await cell(page, 0).locator(".cm-content").click();
    await page.keyboard.press("Alt+Enter");
    await page.locator('.jp-InputPrompt:text-is("[1]:")').waitFor(patient);
    await page.locator(".jp-Cell.jp-mod-active .cm-content:focus").waitFor(patient);
    await page.keyboard.insertText("form.flatn");
    await page.keyboard.press("Tab");
    await page.locator(".cm-tooltip-autocomplete [aria-selected=true]", { hasText: "flatness" }).waitFor(patient);
    // what opens while one types takes no key for a moment
    await page.waitForTimeout(400);
    await page.keyboard.press("Enter");
    await expect.poll(() => cell(page, 1).locator(".cm-content").textContent(), patient).toBe("form.flatness");
    await page.keyboard.press("Shift+Tab");
    await page.locator(".live-help", { hasText: "Flatness of a map at the places probed" }).waitFor(patient);
    await page.keyboard.press("Escape");
    await page.locator(".live-help").waitFor({ state: "detached", ...patient });
    await page.keyboard.insertText("(");
    await expect.poll(() => cell(page, 1).locator(".cm-content").textContent(), patient).toContain("form.flatness(");
    expect(live.trouble).toEqual([]);
    await page.close();
  });

  it("stops a loop that does not end, and goes on", async () => {
    const page = await live.ready("loop", "");
    await write(page, 0, "while (true) {}");
    await page.keyboard.press("Control+Enter");
    await kernel(page, "running");
    await press(page, "stop");
    await kernel(page, "ready");
    await run(page, 0, "40 + 2", "42");
    expect(live.trouble).toEqual([]);
    await page.close();
  });

  it("keeps what a cell puts out while the page is loaded again, and goes on with it", async () => {
    // a cell goes on past a place only once the gate there is open, however long the page takes
    const gate = (name: string) => join(live.project, `${name}.open`);
    const open = (name: string) => writeFileSync(gate(name), "");
    const until = (name: string) =>
      `while (!(await import("node:fs")).existsSync(${JSON.stringify(gate(name))})) await new Promise((on) => setTimeout(on, 50));`;
    const text = (from: number) =>
      `for (let n = 0; n < 40; n++) { console.log("step", n + ${from}); await new Promise((on) => setTimeout(on, 50)); if (n === 30) ${until("first")} }\n"done ${from}"`;
    const page = await live.ready("again", text(0), text(100), "3 * 14");
    await press(page, "runAll");
    await output(page, 0, "step 3").waitFor(patient);
    page.on("dialog", (dialog) => dialog.accept());
    await page.reload();
    await page.waitForSelector("body[data-ready]", patient);
    await output(page, 0, "step 3").waitFor(patient);
    await kernel(page, "running");
    open("first");
    for (const [at, last] of [
      [0, "done 0"],
      [1, "done 100"],
      [2, "42"],
    ] as const)
      await output(page, at, last).waitFor(patient);
    await kernel(page, "ready");
    const printed = (at: number) => cell(page, at).locator(".jp-OutputArea-output pre").first().textContent();
    const steps = (from: number) => Array.from({ length: 40 }, (_, n) => `step ${n + from}\n`).join("");
    await expect.poll(async () => [await printed(0), await printed(1)], patient).toEqual([steps(0), steps(100)]);
    // the reply, which has the number, may come after the kernel's word that it rests
    await expect
      .poll(() => page.locator(".jp-InputPrompt").allTextContents(), patient)
      .toEqual(["[1]:", "[2]:", "[3]:"]);
    await saved(page);
    expect(cellsIn(live.onDisk("again")).map(({ outputs }) => outputs?.length)).toEqual([2, 2, 1]);
    expect(await notice(page, "running").count()).toBe(0);
    // a cell that has another text on the disk does not get the output of what ran
    await write(page, 2, `${until("second")} 99`);
    await page.keyboard.press("Control+Enter");
    await kernel(page, "running");
    await page.reload();
    await page.waitForSelector("body[data-ready]", patient);
    await notice(page, "running").waitFor(patient);
    expect(await notice(page, "running").textContent()).toContain("its output is not shown: run it again");
    open("second");
    await kernel(page, "ready");
    await output(page, 2, "42").waitFor(patient);
    expect(live.trouble).toEqual([]);
    await page.close();
  });

  it("tells that the kernel stopped, and starts it again with everything on the page kept", async () => {
    const page = await live.ready("killed", "");
    await write(page, 0, 'process.kill(process.pid, "SIGKILL")');
    await page.keyboard.press("Control+Enter");
    await notice(page, "kernel").waitFor(patient);
    expect(await notice(page, "kernel").textContent()).toContain("The kernel stopped");
    await notice(page, "kernel").getByText("Start it again").click();
    await kernel(page, "ready");
    await run(page, 0, "40 + 2", "42");
    expect(await notice(page, "kernel").count()).toBe(0);
    await page.close();
  });

  it("tells that the line to the server broke, and goes on in the same kernel when it is back", async () => {
    const lines: WebSocketRoute[] = [];
    let away = false;
    live.write("line", "");
    const page = await live.open("notebooks/line.ipynb", (fresh) =>
      fresh.routeWebSocket(/\/channels/, (line) => {
        // neither opened nor refused, as where the network is gone
        if (away) return new Promise<void>(() => {});
        line.connectToServer();
        lines.push(line);
      }),
    );
    await kernel(page, "ready");
    await run(page, 0, "const kept = 40; kept + 2", "42");
    away = true;
    for (const line of lines) await line.close({ code: 1011 });
    await notice(page, "line").waitFor(patient);
    expect(await notice(page, "line").textContent()).toContain("No connection to the server; what you write stays");
    await write(page, 0, "kept + 3");
    const asked = page.waitForRequest(/\/api\/status/, patient);
    await notice(page, "line").getByText("Try now").click();
    await asked;
    // while the line is away the notice stays; the page tries again by itself, and a press may come too late to be needed
    expect(await notice(page, "line").count()).toBe(1);
    away = false;
    await notice(page, "line").waitFor({ state: "detached", ...patient });
    await kernel(page, "ready");
    await run(page, 0, "kept + 3", "43");
    await page.close();
  });

  it("tells of a second page of the notebook; both ways of a double save are kept", async () => {
    const one = await live.ready("two", "start");
    const two = await live.open("notebooks/two.ipynb");
    await notice(one, "tabs").waitFor(patient);
    await notice(two, "tabs").waitFor(patient);
    await kernel(two, "ready");
    await write(one, 0, "from one");
    await saved(one);
    await notice(two, "disk").waitFor(patient);
    await write(two, 0, "from two");
    await two.keyboard.press("Control+S");
    const dialog = two.locator("dialog[open]");
    await dialog.waitFor(patient);
    expect(await dialog.locator("pre").allTextContents()).toEqual(["from two", "from one"]);
    await dialog.getByText("Keep mine under a new name").click();
    await two.waitForURL(/two-mine/, patient);
    expect([live.sources("two"), live.sources("two-mine")]).toEqual([["from one"], ["from two"]]);
    await one.close();
    await two.close();
  });

  it("shows both where the file changed on the disk; what is written over is kept as a checkpoint", async () => {
    const page = await live.ready("changed", "start");
    await write(page, 0, "mine");
    live.write("changed", "theirs");
    await page.keyboard.press("Control+S");
    await page.locator("dialog[open]").getByText("Write mine over it").click();
    await isSaved(page);
    expect(live.sources("changed")).toEqual(["mine"]);
    const kept = readdirSync(join(live.project, "build"), { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => readFileSync(join(entry.parentPath, entry.name), "utf8"));
    expect(kept.some((text) => text.includes("theirs"))).toBe(true);
    live.write("changed", "theirs again");
    await write(page, 0, "mine again");
    await page.keyboard.press("Control+S");
    await page.locator("dialog[open]").getByText("Load the file from disk").click();
    await expect.poll(() => cell(page, 0).locator(".cm-content").textContent(), patient).toBe("theirs again");
    await notice(page, "kept").getByText("Bring mine back").click();
    await expect.poll(() => cell(page, 0).locator(".cm-content").textContent(), patient).toBe("mine again");
    await saved(page);
    expect(live.sources("changed")).toEqual(["mine again"]);
    await page.close();
  });

  it("saves what is written while an earlier save still runs", async () => {
    live.write("quick", "start");
    const held: (() => void)[] = [];
    let slow = false;
    const page = await live.open("notebooks/quick.ipynb", (fresh) =>
      fresh.route(/\/api\/contents\/.*checkpoints/, async (route) => {
        if (slow && route.request().method() === "POST") await new Promise<void>((on) => held.push(on));
        await route.continue();
      }),
    );
    slow = true;
    await write(page, 0, "second");
    await saved(page);
    await expect.poll(() => held.length, patient).toBe(1);
    await write(page, 0, "third");
    await page.keyboard.press("Control+S");
    held.shift()!();
    await expect.poll(() => live.sources("quick"), patient).toEqual(["third"]);
    await isSaved(page);
    await expect.poll(() => held.length, patient).toBe(1);
    held.shift()!();
    await page.close();
  });

  it("does not take as saved what is written while the save is on its way", async () => {
    live.write("meanwhile", "start");
    let letGo: (() => void) | undefined;
    const page = await live.open("notebooks/meanwhile.ipynb", (fresh) =>
      fresh.route(/\/api\/contents\/.*meanwhile/, async (route) => {
        if (letGo === undefined && route.request().method() === "PUT") {
          await new Promise<void>((on) => {
            letGo = on;
          });
        }
        await route.continue();
      }),
    );
    await write(page, 0, "second");
    await page.keyboard.press("Control+S");
    await expect.poll(() => letGo, patient).toBeDefined();
    await write(page, 0, "third");
    // what a save that was asked for ends with: the file is kept as a version
    const ended = page.waitForRequest((asked) => asked.method() === "POST" && /checkpoints/.test(asked.url()), patient);
    letGo!();
    await ended;
    expect([live.sources("meanwhile"), await page.locator(".saved").textContent()]).toEqual([
      ["second"],
      "not saved yet",
    ]);
    await letTimePass(page);
    await isSaved(page);
    expect(live.sources("meanwhile")).toEqual(["third"]);
    expect(live.trouble).toEqual([]);
    await page.close();
  });

  it("leaves a person where they are when cells that were asked for end", async () => {
    const page = await live.ready("elsewhere", "");
    const gate = join(live.project, "elsewhere.open");
    await write(
      page,
      0,
      `while (!(await import("node:fs")).existsSync(${JSON.stringify(gate)})) await new Promise((on) => setTimeout(on, 50));\n"ended"`,
    );
    await press(page, "runAll");
    await kernel(page, "running");
    const look = page.getByRole("combobox", { name: "Kind of cell" });
    await look.focus();
    // a save is asked for from anywhere
    await saved(page);
    writeFileSync(gate, "");
    await output(page, 0, "ended").waitFor(patient);
    await kernel(page, "ready");
    await page.locator('.jp-InputPrompt:text-is("[1]:")').waitFor(patient);
    // what comes after the cells' end has come, too
    await page.evaluate(() => new Promise((on) => requestAnimationFrame(() => setTimeout(on, 100))));
    expect(await look.evaluate((node) => node === document.activeElement)).toBe(true);
    await page.close();
  });

  it("tells that the file was removed, and writes it again when asked to", async () => {
    const page = await live.ready("removed", "start");
    await write(page, 0, "mine");
    rmSync(join(live.project, "notebooks/removed.ipynb"));
    await page.keyboard.press("Control+S");
    await notice(page, "disk").waitFor(patient);
    expect(existsSync(join(live.project, "notebooks/removed.ipynb"))).toBe(false);
    await notice(page, "disk").getByText("Write it again").click();
    await isSaved(page);
    expect(live.sources("removed")).toEqual(["mine"]);
    await page.close();
  });

  it("asks before a page with unsaved text is left", async () => {
    const page = await live.ready("leaving", "start");
    await write(page, 0, "not saved");
    const asked = page.waitForEvent("dialog", patient);
    const left = page.close({ runBeforeUnload: true });
    const dialog = await asked;
    expect(dialog.type()).toBe("beforeunload");
    await dialog.accept();
    await left;
  });

  it(`opens, scrolls, changes and saves a notebook of ${many} cells`, async () => {
    const texts = Array.from({ length: many }, (_, k) => `const value${k} = ${k};`);
    live.write("many", ...texts);
    const started = performance.now();
    const page = await live.open("notebooks/many.ipynb");
    console.log(`${many} cells are there after ${((performance.now() - started) / 1000).toFixed(1)} s`);
    const pane = page.locator(".jp-WindowedPanel-outer");
    const scroll = async (to: "end" | "start", at: number): Promise<void> => {
      const begun = performance.now();
      // heights of cells that were never in view are estimates: the end moves while it is approached
      await expect
        .poll(async () => {
          await pane.evaluate((node, end) => node.scrollTo({ top: end ? node.scrollHeight : 0 }), to === "end");
          return page.locator(".jp-Notebook .cm-content", { hasText: `const value${at} =` }).isVisible();
        }, patient)
        .toBe(true);
      console.log(`scrolled to its ${to} after ${((performance.now() - begun) / 1000).toFixed(1)} s`);
    };
    await scroll("end", many - 1);
    await scroll("start", 0);
    // a notebook that was only looked at is not changed by that
    expect(await page.locator(".saved").textContent()).toBe("as on disk");
    await write(page, 0, "changed");
    await saved(page);
    expect(live.sources("many")).toEqual(["changed", ...texts.slice(1)]);
    expect(live.trouble).toEqual([]);
    await page.close();
  });

  it("finds and prints all cells of a notebook that draws only those in view", async () => {
    const texts = Array.from({ length: 400 }, (_, at) => `const value${at} = ${at}; // a needle`);
    live.write("findable", ...texts, "console.log('hay')");
    const page = await live.open("notebooks/findable.ipynb");
    await kernel(page, "ready");
    await page.keyboard.press("Control+f");
    const count = page.locator(".find [role=status]");
    await page.keyboard.type("VALUE399 =");
    await expect.poll(() => count.textContent(), patient).toBe("1 of 1");
    const found = () =>
      page.evaluate(() => {
        const marks = (CSS as never as { highlights: Map<string, Iterable<Range>> }).highlights.get("dialbook-found");
        return [...(marks ?? [])].map((range) => {
          const { top } = range.getBoundingClientRect();
          return [String(range), top > 0 && top < innerHeight];
        });
      });
    await expect.poll(found, patient).toEqual([["value399 =", true]]);
    await page.locator(".find input").fill("needle");
    await expect.poll(() => count.textContent(), patient).toBe("400 of 400");
    await page.keyboard.press("Enter");
    await expect.poll(() => count.textContent(), patient).toBe("1 of 400");
    await page.keyboard.press("Shift+Enter");
    await expect.poll(() => count.textContent(), patient).toBe("400 of 400");
    await page.locator(".find input").fill("no such words");
    await expect.poll(() => count.textContent(), patient).toBe("not found");
    await page.keyboard.press("Escape");
    await page.locator(".find").waitFor({ state: "hidden", ...patient });

    await page.evaluate(() => {
      window.print = () => {
        const cells = Array.from(document.querySelectorAll(".paper .jp-Cell")).map((cell) => cell.textContent);
        document.body.dataset.printed = JSON.stringify([cells.length, cells[399]]);
      };
    });
    await page.keyboard.press("Control+p");
    await expect
      .poll(() => page.evaluate(() => document.body.dataset.printed), patient)
      .toBe(JSON.stringify([401, texts[399]]));
    await expect.poll(() => page.locator(".paper").count(), patient).toBe(0);
    // the browser's own menu prints what is drawn, and says that this is not all
    await page.emulateMedia({ media: "print" });
    await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
    await page.locator(".unprinted").waitFor(patient);
    // paper is light, whatever the look on the screen
    const paper = () => page.evaluate(() => getComputedStyle(document.documentElement).getPropertyValue("--paper"));
    await page.evaluate(() => {
      document.documentElement.dataset.look = "dark";
    });
    expect(await paper()).toBe("#fff");
    await page.emulateMedia({ media: "screen" });
    expect(await paper()).toBe("#16181c");
    await page.emulateMedia({ media: "print" });
    expect(await page.locator(".unprinted").textContent()).toBe(
      "Here are only the cells in view, of 401. Ctrl+P on the page prints all of them; so does its report.",
    );
    expect(live.trouble).toEqual([]);
    await page.close();
  });

  it("prints a chapter on as many pages as it has", async () => {
    const page = await live.open(chapter);
    await page.locator(".jp-OutputArea .dialbook table").first().waitFor(patient);
    const pages = (await page.pdf({ format: "A4" })).toString("latin1").match(/\/Type \/Page\b/g)!.length;
    // it printed what was in sight, one page of them
    expect(pages).toBeGreaterThan(4);
    await page.emulateMedia({ media: "print" });
    await page.locator(".bar").waitFor({ state: "hidden", ...patient });
    await page.close();
  });

  it("prints the still picture of a figure that turns: of a surface the printer would get nothing", async () => {
    const page = await live.open(chapter);
    const drawn = page.locator('[data-drawn="yes"]:has(.for-paper)').first();
    await page.locator(".live-figure").first().scrollIntoViewIfNeeded(patient);
    await drawn.waitFor(patient);
    expect(await drawn.locator(".for-paper").isVisible()).toBe(false);
    expect(await drawn.locator(".stage").isVisible()).toBe(true);
    await page.emulateMedia({ media: "print" });
    expect(await drawn.locator(".for-paper").isVisible()).toBe(true);
    expect(await drawn.locator(".stage").isVisible()).toBe(false);
    await page.close();
  });

  it("says once what is wrong with a cell, in the box, and takes no word of it apart", async () => {
    const page = await live.ready("mixed", "1");
    await run(page, 0, 'import { kelvin, mm } from "dialbook";\nmm(1).plus(kelvin(20))', "Compile Error");
    const said = page.getByText("a temperature difference (K) was given where a length (mm) is needed");
    await said.last().waitFor(patient);
    expect((await Promise.all((await said.all()).map((one) => one.isVisible()))).filter(Boolean)).toEqual([true]);
    const breaks = await page
      .locator(".db-error pre")
      .first()
      .evaluate((el) => getComputedStyle(el).wordBreak);
    expect(breaks).toBe("normal");
    await page.close();
  });

  it("takes one value at 390 px, wherever the page is narrow", async () => {
    const page = await live.ready("narrow", "const depth = 1;\ndepth");
    await page.setViewportSize({ width: 390, height: 800 });
    await run(page, 0, "const depth = 2.5;\ndepth", "2.5");
    await press(page, "save");
    await isSaved(page);
    const beyond = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
    expect(beyond).toBeLessThanOrEqual(0);
    expect(live.sources("narrow")).toEqual(["const depth = 2.5;\ndepth"]);
    await page.close();
  });
});
