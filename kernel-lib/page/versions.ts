import type { Context } from "@jupyterlab/docregistry";
import type { INotebookModel } from "@jupyterlab/notebook";
import type { Contents } from "@jupyterlab/services";
import { button, element } from "./dom.js";
import type { Notices } from "./notices.js";
import type { Saving } from "./saving.js";

/** What the saves that were asked for kept: a list to bring one back from. What stands here is kept as one more first. */
export class Versions {
  constructor(
    private readonly context: Context<INotebookModel>,
    private readonly saving: Saving,
    private readonly notices: Notices,
  ) {}

  async show(): Promise<void> {
    const versions = await this.context.listCheckpoints().catch((error: Error) => {
      this.notices.say("versions", `The earlier versions can't be listed: ${error.message}`);
      return undefined;
    });
    if (versions === undefined) return;
    const leave = element("button", { value: "" }, "Leave it");
    const form = element("form", { method: "dialog" }, element("h2", {}, "Earlier versions"));
    const dialog = element("dialog", { class: "versions" }, form);
    const latestFirst = [...versions].reverse();
    const list = element("ul", {}, ...latestFirst.map((version) => this.row(version, () => dialog.close())));
    const none = element("p", {}, "None yet: each save that you ask for keeps one, the last ten of them.");
    const about = element("p", { class: "soft" }, "What stands on the page now is kept as a version too.");
    form.append(...(versions.length > 0 ? [about, list] : [none]), element("div", { class: "answers" }, leave));
    document.body.append(dialog);
    dialog.addEventListener("close", () => dialog.remove());
    dialog.showModal();
  }

  private row(version: Contents.ICheckpointModel, close: () => void): HTMLElement {
    const time = timeOf(version);
    const act = (): void => {
      close();
      void this.bringBack(version);
    };
    return element(
      "li",
      {},
      time,
      " ",
      button("Bring back", act, { "aria-label": `Bring back the version of ${time}` }),
    );
  }

  private async bringBack(version: Contents.ICheckpointModel): Promise<void> {
    if (this.context.model.dirty && !(await this.saving.save("by itself"))) return;
    try {
      await this.saving.restore(version.id);
    } catch (error) {
      this.notices.say("versions", `The version was not brought back: ${(error as Error).message}`);
      return;
    }
    const latest = (await this.context.listCheckpoints()).at(-1);
    const offers = latest ? [{ label: "Take that back", act: () => this.bringBack(latest) }] : [];
    const sentence = `The version of ${timeOf(version)} is here again; what stood here before is kept as a version too`;
    this.notices.say("versions", sentence, offers, "plain");
  }
}

function timeOf({ last_modified: time }: Contents.ICheckpointModel): string {
  const date = new Date(time);
  return `${date.toLocaleDateString("sv")} ${date.toLocaleTimeString("sv")}`;
}
