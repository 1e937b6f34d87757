import type { RemovedFile } from "../src/kernel/live/listed-file.js";
import { button, element } from "./dom.js";
import type { Notices } from "./notices.js";
import { asked, sent } from "./server.js";

/** A file that was removed from the list, with the way to bring it back. */
export function removedRow(
  { id, path, removed }: RemovedFile,
  changed: () => Promise<void>,
  notices: Notices,
): HTMLElement {
  const back = async (): Promise<void> => {
    try {
      await asked("/dialbook/back", sent("POST", { id }));
      notices.settle("file");
    } catch (error) {
      notices.say("file", `${path} was not brought back: ${(error as Error).message}`);
    }
    await changed();
  };
  return element(
    "li",
    { "data-removed": path },
    element(
      "div",
      { class: "row" },
      element("span", { class: "title" }, path),
      element(
        "span",
        { class: "acts" },
        button("Bring back", () => void back(), { class: "quiet", "aria-label": `Bring back ${path}` }),
      ),
    ),
    element("p", { class: "facts" }, `removed ${at(removed)} · kept in build/removed/${id}`),
  );
}

function at(time: string): string {
  const date = new Date(time);
  return `${date.toLocaleDateString("sv")} ${date.toLocaleTimeString("sv").slice(0, 5)}`;
}
