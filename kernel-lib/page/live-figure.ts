import { savingButtons } from "./figure-saving.js";
import type { FigureSpec } from "./figure-spec.js";
import { scriptFile } from "./script-file.js";

interface Plotly {
  readonly Icons: { readonly disk: unknown };
  newPlot(node: HTMLElement, data: unknown, layout: unknown, config: unknown): Promise<unknown>;
  purge(node: HTMLElement): void;
}

const config = {
  responsive: true,
  displaylogo: false,
  // nothing of a figure leaves this machine
  plotlyServerURL: "",
  modeBarButtonsToRemove: ["sendChartToCloud", "sendDataToCloud", "lasso2d", "select2d"],
};
/** the width figures are laid out for, in px */
const usualWidth = 640;
const usualHeight = 480;
/** on less, titles and ticks run into each other: the still picture, which shrinks as a whole, stays until it is touched */
const least = 480;

/** asked for when the first figure comes into view */
const plotly = scriptFile<Plotly>("plotly.js", "Plotly");

/** Turns what stands in an element, a still picture as a rule, into a figure that turns, once it comes into view. */
export class LiveFigure {
  private readonly stage = document.createElement("div");
  private drawing = false;
  private gone = false;
  private readonly inView = new IntersectionObserver((entries) => {
    if (!entries.some((entry) => entry.isIntersecting)) return;
    if (this.host.clientWidth >= least || this.host.childElementCount === 0) void this.draw(this.host.clientWidth);
    else this.drawWhenTouched();
  });

  constructor(
    private readonly host: HTMLElement,
    private readonly spec: FigureSpec,
  ) {
    this.stage.className = "stage";
    this.inView.observe(host);
  }

  dispose(): void {
    this.gone = true;
    this.inView.disconnect();
    if (this.drawing)
      void plotly().then(
        (script) => script.purge(this.stage),
        () => undefined,
      );
  }

  private drawWhenTouched(): void {
    this.inView.disconnect();
    this.host.title = "Touch to turn it and read values";
    this.host.addEventListener("click", () => void this.draw(usualWidth), { once: true });
  }

  private async draw(width: number): Promise<void> {
    if (this.drawing || this.gone || width === 0) return;
    this.drawing = true;
    this.inView.disconnect();
    const still = [...this.host.childNodes];
    try {
      const script = await plotly();
      if (this.gone) return;
      const { data, layout } = structuredClone(this.spec);
      const height = Math.round((layout.height ?? usualHeight) * Math.min(1, width / usualWidth));
      this.stage.style.height = `${height}px`;
      // wider than its frame, which then scrolls
      if (width > this.host.clientWidth) this.stage.style.width = `${width}px`;
      this.host.removeAttribute("title");
      const picture = still.map(pictureIn).find((found) => found !== null) ?? null;
      this.host.replaceChildren(...forPaper(picture), this.stage);
      const saving = savingButtons(this.spec, picture, script.Icons.disk);
      await script.newPlot(this.stage, data, { ...layout, height }, { ...config, ...saving });
      this.host.dataset.drawn = "yes";
    } catch {
      // the still picture says the same
      this.host.replaceChildren(...still);
    }
  }
}

/** what is printed in the place of the live figure: a printer gets nothing of a surface that a graphics card drew */
function forPaper(picture: HTMLImageElement | null): readonly HTMLImageElement[] {
  if (picture === null) return [];
  const printed = picture.cloneNode() as HTMLImageElement;
  printed.className = "for-paper";
  return [printed];
}

function pictureIn(node: Node): HTMLImageElement | null {
  if (node instanceof HTMLImageElement) return node;
  return node instanceof Element ? node.querySelector("img") : null;
}
