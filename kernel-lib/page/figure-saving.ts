import { isQuietPicture } from "../src/kernel/quiet-markup.js";
import type { FigureSpec } from "./figure-spec.js";

/** The file that a figure is saved as, without its ending: its title in small letters and dashes. */
export function fileNameOf({ layout }: FigureSpec): string {
  const title = typeof layout.title === "object" && layout.title !== null ? Reflect.get(layout.title, "text") : "";
  const [, words = ""] = /<b>([\s\S]*?)<\/b>/.exec(String(title)) ?? [];
  const name = words
    .replace(/<[^>]*>|&[a-z]+;/g, " ")
    .normalize("NFKD")
    .replace(/[\u0300-\u036f]/g, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .slice(0, 60)
    .replace(/^-|-$/g, "");
  return name === "" ? "figure" : name;
}

/** Plotly's buttons for saving: what is seen as PNG, the still picture, all of it lines and letters, as SVG; one that could run
 * something where it is opened by itself can't be saved. */
export function savingButtons(spec: FigureSpec, still: HTMLImageElement | null, icon: unknown) {
  const filename = fileNameOf(spec);
  return {
    toImageButtonOptions: { format: "png", filename, scale: 2 },
    modeBarButtonsToAdd:
      still === null || !isQuietPicture(still.src)
        ? []
        : [{ name: "svg", title: "Download the still picture as SVG", icon, click: () => save(still, filename) }],
  };
}

function save({ src }: HTMLImageElement, filename: string): void {
  const link = document.createElement("a");
  link.href = src;
  link.download = `${filename}.svg`;
  document.body.append(link);
  link.click();
  link.remove();
}
