import type { Listed } from "../src/kernel/live/listed-file.js";
import { button, element } from "./dom.js";
import { fileRow } from "./file-row.js";
import { keepRows } from "./kept-rows.js";
import { newSurvey } from "./new-survey.js";
import { Notices } from "./notices.js";
import { removedRow } from "./removed-row.js";
import { asked } from "./server.js";
import { lookButton, wearLook } from "./theme.js";
import "./look.css";
import "./list.css";

/** The first page: the notebooks with what each answers, the data, what was removed, a new survey. */
class ListPage {
  private readonly notices = new Notices();
  private readonly notebooks = element("ul", { class: "files", "aria-label": "Notebooks" });
  private readonly data = element("ul", { class: "files", "aria-label": "Data" });
  private readonly removed = element("ul", { class: "files", "aria-label": "Removed" });
  /** lists asked for so far, and the latest of them that is shown */
  private asked = 0;
  private shown = 0;
  private readonly removedPart = element("section", { hidden: "" }, element("h2", {}, "Removed"), this.removed);

  show(): void {
    const add = button("New measurement", () => newSurvey(() => this.load()), { class: "main" });
    document.body.replaceChildren(
      element("header", { class: "head" }, element("h1", {}, "Dialbook"), add, lookButton()),
      this.notices.node,
      element(
        "main",
        {},
        element("section", {}, element("h2", {}, "Notebooks"), this.notebooks),
        element("section", {}, element("h2", {}, "Data"), this.data),
        this.removedPart,
      ),
    );
    window.addEventListener("focus", () => void this.load());
    void this.load();
  }

  private async load(): Promise<void> {
    const turn = ++this.asked;
    try {
      const { notebooks, data, removed } = await asked<Listed>("/dialbook/list");
      // a list that was asked for later is there already
      if (turn < this.shown) return;
      this.shown = turn;
      const row = (file: Listed["data"][number]) => fileRow(file, () => this.load(), this.notices);
      keepRows(this.notebooks, notebooks, row);
      keepRows(this.data, data, row);
      keepRows(this.removed, removed, (file) => removedRow(file, () => this.load(), this.notices));
      this.removedPart.hidden = removed.length === 0;
      this.notices.settle("list");
      document.body.dataset.ready = "yes";
    } catch (error) {
      this.notices.say("list", `The list did not load: ${(error as Error).message}`, [
        { label: "Try again", act: () => this.load() },
      ]);
    }
  }
}

document.body.classList.add("live-list");
wearLook();
new ListPage().show();
