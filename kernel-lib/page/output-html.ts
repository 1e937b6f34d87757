import { RenderedHTML } from "@jupyterlab/rendermime";
import type { IRenderMime } from "@jupyterlab/rendermime-interfaces";
import { isQuietPaper } from "../src/kernel/quiet-markup.js";
import { type FigureSpec, isFigure } from "./figure-spec.js";
import { LiveFigure } from "./live-figure.js";

/**
 * HTML of an output, always sanitised: its scripts, styles and frames are dropped. The page has the look itself, makes
 * figures live again from the numbers beside their still pictures, and shows a sheet to print in a frame that can do
 * nothing.
 */
export class OutputHtml extends RenderedHTML {
  private live: readonly LiveFigure[] = [];

  override async render({ data, metadata }: IRenderMime.IMimeModel): Promise<void> {
    await super.render({ data, metadata, trusted: false, setData: () => undefined });
    this.settle();
    // read for what was dropped, never shown
    const { body } = new DOMParser().parseFromString(String(data["text/html"]), "text/html");
    this.live = this.figuresOf(body);
    this.bringDownloads(body);
    this.bringSheets(body);
  }

  override dispose(): void {
    this.settle();
    super.dispose();
  }

  private settle(): void {
    for (const figure of this.live) figure.dispose();
    this.live = [];
  }

  private figuresOf(given: HTMLElement): readonly LiveFigure[] {
    const shown = this.node.querySelectorAll("figure");
    return [...given.querySelectorAll("figure")].flatMap(({ dataset }, k) => {
      const spec = specIn(dataset.spec);
      const figure = shown[k];
      return spec && figure ? [new LiveFigure(figure, spec)] : [];
    });
  }

  /** Links that save a page to print. A notebook may be somebody else's: one whose page could run something is not handed on. */
  private bringDownloads(given: HTMLElement): void {
    const shown = this.node.querySelectorAll("a");
    given.querySelectorAll("a").forEach((link, k) => {
      const there = shown[k];
      const address = link.getAttribute("href")?.trim() ?? "";
      if (!there || !link.hasAttribute("download") || !/^data:text\/html\b/i.test(address)) return;
      if (!isQuietPaper(address, link.download)) {
        there.replaceWith(notHandedOn);
        return;
      }
      there.href = address;
      there.download = link.download;
    });
  }

  private bringSheets(given: HTMLElement): void {
    for (const { srcdoc, title } of given.querySelectorAll("iframe")) {
      if (srcdoc === "") continue;
      const frame = document.createElement("iframe");
      frame.setAttribute("sandbox", "");
      frame.srcdoc = srcdoc;
      frame.title = title;
      frame.className = "live-sheet";
      this.node.append(frame);
    }
  }
}

const notHandedOn =
  "(not handed on: this page to print is not as dialbook makes it and might run something when it is opened; run the cell again to get one)";

function specIn(text: string | undefined): FigureSpec | undefined {
  try {
    const spec: unknown = text === undefined ? undefined : JSON.parse(text);
    return isFigure(spec) ? spec : undefined;
  } catch {
    return undefined;
  }
}
