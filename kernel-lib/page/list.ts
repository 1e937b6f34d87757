import { button, element } from "./dom.js";
import { fileRow } from "./file-row.js";
import { newSurvey } from "./new-survey.js";
import { Notices } from "./notices.js";
import { asked, type Listed } from "./server.js";
import { lookButton, wearLook } from "./theme.js";
import "./look.css";
import "./list.css";

/** The first page: the notebooks with what each answers, the data, a new survey. */
class ListPage {
  private readonly notices = new Notices();
  private readonly notebooks = element("ul", { class: "files", "aria-label": "Notebooks" });
  private readonly data = element("ul", { class: "files", "aria-label": "Data" });

  show(): void {
    const add = button("New survey", () => newSurvey(() => this.load()), { class: "main" });
    document.body.replaceChildren(
      element("header", { class: "head" }, element("h1", {}, "Dialbook"), add, lookButton()),
      this.notices.node,
      element(
        "main",
        {},
        element("section", {}, element("h2", {}, "Notebooks"), this.notebooks),
        element("section", {}, element("h2", {}, "Data"), this.data),
      ),
    );
    window.addEventListener("focus", () => void this.load());
    void this.load();
  }

  private async load(): Promise<void> {
    try {
      const { notebooks, data } = await asked<Listed>("/dialbook/list");
      const row = (file: Listed["data"][number]) => fileRow(file, () => this.load(), this.notices);
      this.notebooks.replaceChildren(...notebooks.map(row));
      this.data.replaceChildren(...data.map(row));
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
