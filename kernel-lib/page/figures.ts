import type { IRenderMime } from "@jupyterlab/rendermime-interfaces";
import { Widget } from "@lumino/widgets";
import { isFigure } from "./figure-spec.js";
import { LiveFigure } from "./live-figure.js";

const mime = "application/vnd.plotly.v1+json";

/** A figure that is an output of its own: the still picture first, where the output has one, then the live one. */
class FigureView extends Widget implements IRenderMime.IRenderer {
  private figure: LiveFigure | undefined;

  constructor() {
    super();
    this.addClass("live-figure");
  }

  async renderModel({ data }: IRenderMime.IMimeModel): Promise<void> {
    this.figure?.dispose();
    const still = data["image/svg+xml"];
    this.node.replaceChildren(...(typeof still === "string" ? [picture(still)] : []));
    const spec = data[mime];
    if (isFigure(spec)) this.figure = new LiveFigure(this.node, spec);
  }

  override dispose(): void {
    this.figure?.dispose();
    super.dispose();
  }
}

function picture(svg: string): HTMLImageElement {
  const image = document.createElement("img");
  const bytes = Array.from(new TextEncoder().encode(svg), (byte) => String.fromCharCode(byte));
  image.src = `data:image/svg+xml;base64,${btoa(bytes.join(""))}`;
  image.alt = /<title[^>]*>([^<]*)/.exec(svg)?.[1] ?? "figure";
  return image;
}

export const figureFactory: IRenderMime.IRendererFactory = {
  safe: true,
  mimeTypes: [mime],
  defaultRank: 10,
  createRenderer: () => new FigureView(),
};
