import type { IRenderMime } from "@jupyterlab/rendermime-interfaces";
import { Widget } from "@lumino/widgets";

interface Plotly {
  newPlot(node: HTMLElement, data: unknown, layout: unknown, config: unknown): Promise<unknown>;
  purge(node: HTMLElement): void;
  Plots: { resize(node: HTMLElement): unknown };
}

interface Spec {
  readonly data: unknown;
  readonly layout: { readonly height?: number; readonly [key: string]: unknown };
}

const mime = "application/vnd.plotly.v1+json";
const config = {
  responsive: true,
  displaylogo: false,
  modeBarButtonsToRemove: ["sendDataToCloud", "lasso2d", "select2d"],
};
/** height against width under which a figure is not pressed together further */
const narrowest = 0.6;

let loading: Promise<Plotly> | undefined;

/** The plotting script is a file of the server, asked for when the first figure comes into view. */
function plotly(): Promise<Plotly> {
  loading ??= new Promise((resolve, reject) => {
    const script = document.createElement("script");
    script.src = "/asset/plotly.js";
    script.onload = () => resolve(Reflect.get(window, "Plotly") as Plotly);
    script.onerror = () => {
      loading = undefined;
      script.remove();
      reject(new Error("the plotting script did not load"));
    };
    document.head.append(script);
  });
  return loading;
}

/** A figure of the notebook: the still picture first, where the output has one, then the live one. */
class FigureView extends Widget implements IRenderMime.IRenderer {
  private readonly stage = document.createElement("div");
  private spec: Spec | undefined;
  private drawn = false;
  private readonly inView = new IntersectionObserver((entries) => {
    if (entries.some((entry) => entry.isIntersecting)) void this.draw();
  });

  constructor() {
    super();
    this.addClass("live-figure");
    this.stage.className = "live-figure-stage";
    this.node.append(this.stage);
  }

  async renderModel(model: IRenderMime.IMimeModel): Promise<void> {
    this.spec = model.data[mime] as unknown as Spec;
    this.drawn = false;
    const still = model.data["image/svg+xml"];
    this.node.style.minHeight = `${this.spec.layout.height ?? 480}px`;
    if (typeof still === "string" && this.stage.childElementCount === 0) this.stage.append(picture(still));
    this.inView.observe(this.node);
  }

  override dispose(): void {
    this.inView.disconnect();
    if (this.drawn) void loading?.then((script) => script.purge(this.stage));
    super.dispose();
  }

  protected override onAfterAttach(): void {
    this.inView.observe(this.node);
  }

  private async draw(): Promise<void> {
    if (this.drawn || this.isDisposed || !this.spec || this.node.clientWidth === 0) return;
    this.drawn = true;
    this.inView.disconnect();
    try {
      const script = await plotly();
      if (this.isDisposed) return;
      const { data, layout } = structuredClone(this.spec);
      const share = Math.min(1, Math.max(narrowest, this.node.clientWidth / 640));
      const height = Math.round((layout.height ?? 480) * share);
      this.node.style.minHeight = "";
      this.stage.replaceChildren();
      this.stage.style.height = `${height}px`;
      await script.newPlot(this.stage, data, { ...layout, height }, config);
      this.node.dataset.drawn = "yes";
    } catch {
      // the still picture stays; it says the same
      this.drawn = false;
    }
  }
}

function picture(svg: string): HTMLImageElement {
  const image = document.createElement("img");
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
  image.alt = /<title[^>]*>([^<]*)/.exec(svg)?.[1] ?? "figure";
  return image;
}

export const figureFactory: IRenderMime.IRendererFactory = {
  safe: true,
  mimeTypes: [mime],
  defaultRank: 10,
  createRenderer: () => new FigureView(),
};
