import { copyFileSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import type { Browser, Page } from "playwright-core";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { built, notebook, project, scratch } from "../kernel/workplace.js";
import { browserIsThere, openBrowser, patient } from "./chromium.js";
import { placeOf } from "./live-pages.js";
import { NotebookServer, serverIsThere } from "./notebook-server.js";

const survey = 'readSurvey("../data/table-before.csv")';
const cells = [
  'import { facing, figure, mm, readSurvey } from "dialbook";',
  `const sheet = ${survey};`,
  "figure.heightSurface(sheet.surface())",
  "figure.depthSlider(facing.depth(sheet.surface(), { draws: 100, thickness: mm(25) }))",
  "mm(1).plus(0.02)",
];

describe.skipIf(!browserIsThere() || !serverIsThere())(
  "the classic Notebook with this kernel",
  {
    timeout: 400_000,
  },
  () => {
    let browser: Browser;
    let server: NotebookServer;
    let folder: string;

    beforeAll(async () => {
      built();
      folder = scratch();
      for (const name of ["notebooks", "data"]) mkdirSync(join(folder, name));
      for (const file of ["table-before.csv", "checksums.csv"]) {
        copyFileSync(join(project, "data", file), join(folder, "data", file));
      }
      copyFileSync(join(project, "notebooks/05-the-table-as-found.ipynb"), join(folder, "notebooks/chapter.ipynb"));
      forOurKernel(notebook(join(folder, "notebooks/by-hand.ipynb"), cells));
      server = await NotebookServer.start(folder, scratch());
      browser = await openBrowser();
    }, 240_000);

    afterAll(async () => {
      await browser?.close();
      await server?.close();
    });

    it("runs a chapter from the first cell to the last, and none of them stops", async () => {
      const page = await opened("chapter");
      await runAll(page);
      const ran = await page.evaluate(() => {
        const { notebook: open } = Reflect.get(globalThis, "Jupyter");
        return open
          .get_cells()
          .flatMap((cell: ClassicCell) =>
            cell.cell_type !== "code" || cell.get_text().trim() === ""
              ? []
              : [{ count: cell.input_prompt_number, types: cell.output_area.outputs.map((o) => o.output_type) }],
          );
      });
      expect(ran.map(({ count }: Ran) => count)).toEqual(ran.map((_: Ran, i: number) => i + 1));
      expect(ran.flatMap(({ types }: Ran) => types)).not.toContain("error");
      await page.close();
    });

    describe("and figures, worked by hand", () => {
      let page: Page;
      beforeAll(async () => {
        page = await opened("by-hand");
        await runAll(page);
        await page.waitForFunction(
          () => document.querySelectorAll(".db-live .modebar").length >= 2,
          undefined,
          patient,
        );
      }, 400_000);
      afterAll(() => page?.close());

      it("turns a surface when it is dragged", async () => {
        const scene = page.locator(".db-live").first();
        await scene.scrollIntoViewIfNeeded();
        await scene.locator(".gl-container canvas").waitFor();
        const eye = () =>
          scene.evaluate((figure) => {
            const { camera } = Reflect.get(figure, "_fullLayout").scene._scene.getCamera
              ? { camera: Reflect.get(figure, "_fullLayout").scene._scene.getCamera() }
              : Reflect.get(figure, "_fullLayout").scene;
            return [camera.eye.x, camera.eye.y].map((at: number) => Math.round(at * 100));
          });
        const before = await eye();
        const box = await placeOf(scene);
        await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
        await page.mouse.down();
        await page.mouse.move(box.x + box.width / 2 + 120, box.y + box.height / 2 + 10, { steps: 6 });
        await page.mouse.up();
        await expect.poll(eye, patient).not.toEqual(before);
      });

      it("shows another depth of cut when the slider is moved", async () => {
        const plan = page.locator(".db-live").nth(1);
        await plan.scrollIntoViewIfNeeded();
        const state = () =>
          plan.evaluate((figure) => ({
            visible: Reflect.get(figure, "data").map(({ visible }: { visible?: boolean }) => visible !== false),
            active: Reflect.get(figure, "layout").sliders[0].active,
          }));
        const before = await state();
        const rail = await placeOf(plan.locator(".slider-rail-touch-rect"));
        await page.mouse.click(rail.x + rail.width - 4, rail.y + rail.height / 2);
        await expect.poll(async () => (await state()).active, patient).not.toBe(before.active);
        await expect.poll(async () => (await state()).visible, patient).not.toEqual(before.visible);
      });

      it("carries the title of its still picture", async () => {
        const words = await page.evaluate(() =>
          Array.from(document.querySelectorAll("figure[data-dialbook-figure]"), (figure) => {
            const image = figure.querySelector("img")?.getAttribute("src") ?? "";
            const bytes = Uint8Array.from(atob(image.replace(/^.*base64,/, "")), (c) => c.charCodeAt(0));
            const still = new DOMParser().parseFromString(new TextDecoder().decode(bytes), "image/svg+xml");
            const { title, annotations = [] } = Reflect.get(figure.querySelector(".db-live") ?? {}, "layout");
            const live = [title?.text ?? "", ...annotations.map(({ text }: { text: string }) => text)].join(" ");
            return { still: Array.from(still.querySelectorAll("text"), (t) => t.textContent ?? ""), live };
          }),
        );
        expect(words).toHaveLength(2);
        for (const { still, live } of words) {
          const plain = live.replace(/<[^>]*>/g, " ").replace(/\s+/g, " ");
          expect(still.length).toBeGreaterThan(5);
          expect(plain).toContain(still[0]?.replace(/\s+/g, " "));
        }
      });

      it("shows a mix-up of kinds as one box", async () => {
        const box = page.locator(".db-error");
        await expect.poll(() => box.count(), patient).toBe(1);
        expect(await box.textContent()).toContain("a bare number was given where a length is needed");
        expect(await box.textContent()).toContain("Give it a unit, as in mm(0.02)");
      });

      it("leaves no plotting script in the notebook that is saved", async () => {
        const has = (words: string) => document.body.innerHTML.includes(words);
        await expect.poll(() => page.evaluate(has, "DecompressionStream"), patient).toBe(false);
        await page.evaluate(() => Reflect.get(globalThis, "Jupyter").notebook.save_notebook());
        await expect
          .poll(() => readFileSync(join(folder, "notebooks/by-hand.ipynb"), "utf8").includes("db-error"), patient)
          .toBe(true);
        const saved = readFileSync(join(folder, "notebooks/by-hand.ipynb"), "utf8");
        expect(saved.length).toBeLessThan(1_000_000);
      });
    });

    async function opened(name: string): Promise<Page> {
      const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
      page.setDefaultTimeout(patient.timeout);
      await page.goto(`${server.address}/notebooks/notebooks/${name}.ipynb`);
      await page.waitForFunction(
        () => Reflect.get(globalThis, "Jupyter")?.notebook?.kernel?.is_connected?.() === true,
        undefined,
        { timeout: 60_000 },
      );
      return page;
    }

    async function runAll(page: Page): Promise<void> {
      await page.evaluate(() => Reflect.get(globalThis, "Jupyter").notebook.execute_all_cells());
      await page.waitForFunction(
        () => {
          const { notebook: open } = Reflect.get(globalThis, "Jupyter");
          const code = open
            .get_cells()
            .filter((cell: ClassicCell) => cell.cell_type === "code" && cell.get_text().trim());
          const areNumbered = code.every((cell: ClassicCell) => typeof cell.input_prompt_number === "number");
          // the number comes with the reply, which may be there before what the cell shows
          return areNumbered && !open.kernel_busy;
        },
        undefined,
        { timeout: 180_000 },
      );
    }
  },
);

/** Writes into a notebook which kernel it wants. */
function forOurKernel(path: string): void {
  const content = JSON.parse(readFileSync(path, "utf8"));
  content.metadata.kernelspec = { name: "dialbook", display_name: "TypeScript (Dialbook)", language: "typescript" };
  writeFileSync(path, JSON.stringify(content));
}

interface ClassicCell {
  readonly cell_type: string;
  readonly input_prompt_number: number | string | null;
  readonly output_area: { readonly outputs: readonly { readonly output_type: string }[] };
  get_text(): string;
}

interface Ran {
  readonly count: number;
  readonly types: readonly string[];
}
