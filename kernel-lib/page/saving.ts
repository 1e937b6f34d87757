import type { Context } from "@jupyterlab/docregistry";
import type { INotebookContent } from "@jupyterlab/nbformat";
import type { INotebookModel } from "@jupyterlab/notebook";
import { besideName, type CellText, differences } from "./difference.js";
import { differenceView } from "./difference-view.js";
import { DiskChanged, type GuardedDrive, NotSaved } from "./guarded-drive.js";
import { ask, type Notices } from "./notices.js";

const autosaveMs = 20_000;
const answers = {
  theirs: "Load the file from disk",
  beside: "Keep mine under a new name",
  over: "Write mine over it",
  later: "Decide later",
};

/** Saves the notebook, never over a file that changed under it without the person having seen both. */
export class Saving {
  private asking = false;
  private running: Promise<boolean> | undefined;
  /** told by the page after each save */
  onSaved: () => void = () => undefined;

  constructor(
    private readonly context: Context<INotebookModel>,
    private readonly drive: GuardedDrive,
    private readonly notices: Notices,
  ) {
    setInterval(() => void this.autosave(), autosaveMs);
    setInterval(() => void this.lookAtDisk(), autosaveMs);
    window.addEventListener("focus", () => void this.lookAtDisk());
    window.addEventListener("beforeunload", (event) => {
      if (this.context.model.dirty) event.preventDefault();
    });
  }

  /**
   * What was written while an earlier save still runs is saved after it.
   * @returns whether it is on the disk now
   */
  save(why: "asked" | "by itself"): Promise<boolean> {
    // the answer to the question about the file decides for this save too
    if (this.running !== undefined && this.asking) return this.running;
    const saved: Promise<boolean> = (this.running ?? Promise.resolve(true))
      .then(() => this.write(why))
      .finally(() => {
        if (this.running === saved) this.running = undefined;
      });
    this.running = saved;
    return saved;
  }

  private async write(why: "asked" | "by itself"): Promise<boolean> {
    try {
      await this.saveAll();
    } catch (error) {
      return this.refused(error, why);
    }
    for (const subject of ["save", "disk"]) this.notices.settle(subject);
    this.onSaved();
    // a save that was asked for is one to come back to
    if (why === "asked") await this.context.createCheckpoint().catch(() => undefined);
    return true;
  }

  /** The widgets take all as saved once the answer is there; what was written while the save was on its way is not. */
  private async saveAll(): Promise<void> {
    const { model } = this.context;
    let isChanged = false;
    const note = (): void => {
      isChanged = true;
    };
    model.contentChanged.connect(note);
    try {
      await this.context.save();
    } finally {
      model.contentChanged.disconnect(note);
    }
    if (isChanged) model.dirty = true;
  }

  private async autosave(): Promise<void> {
    const waits = this.asking || this.notices.has("disk") || !this.context.isReady;
    if (this.context.model.dirty && !waits) await this.save("by itself");
  }

  private async refused(error: unknown, why: "asked" | "by itself"): Promise<boolean> {
    if (error instanceof DiskChanged) {
      if (error.what === "gone") this.tellGone();
      else if (why === "asked") return this.settleConflict();
      else this.tellChanged();
      return false;
    }
    const message = error instanceof Error ? error.message : String(error);
    const away = error instanceof NotSaved && error.away;
    const sentence = away
      ? "Not saved: the server does not answer; your text stays on this page"
      : `Not saved: ${message}`;
    this.notices.say("save", sentence, [{ label: "Try again", act: async () => void (await this.save("asked")) }]);
    return false;
  }

  /** tells before a save what happened to the file meanwhile */
  async lookAtDisk(): Promise<void> {
    if (!this.context.isReady || this.asking || this.running || document.hidden) return;
    const state = await this.drive.state(this.context.path).catch(() => undefined);
    if (this.running || this.asking) return;
    if (state === "gone") this.tellGone();
    else if (state === "changed") this.tellChanged();
    else if (state === "same") this.notices.settle("disk");
  }

  private tellGone(): void {
    if (this.notices.has("disk")) return;
    this.notices.say(
      "disk",
      `${this.context.path} is no longer on the disk: it was removed or renamed. What you see is kept on this page`,
      [{ label: "Write it again", act: () => this.writeAgain() }],
    );
  }

  private tellChanged(): void {
    if (this.notices.has("disk")) return;
    this.notices.say(
      "disk",
      `${this.context.path} was changed on the disk by another program or page; nothing was written over`,
      [{ label: "Look at both", act: async () => void (await this.settleConflict()) }],
    );
  }

  private async writeAgain(): Promise<void> {
    this.drive.forget(this.context.path);
    await this.save("asked");
  }

  /** shows both states and does what the person decides; what is given up can be brought back on this page */
  async settleConflict(): Promise<boolean> {
    if (this.asking) return false;
    this.asking = true;
    try {
      const disk = (await this.drive.onDisk(this.context.path, true)).content as INotebookContent;
      const mine = this.context.model.toJSON() as INotebookContent;
      const found = differences(mine.cells as CellText[], disk.cells as CellText[]);
      const answer = await ask(
        "The file changed while it was open here",
        differenceView(found),
        Object.values(answers),
      );
      return await this.follow(answer, mine);
    } finally {
      this.asking = false;
      this.notices.onDone();
    }
  }

  private async follow(answer: string | undefined, mine: INotebookContent): Promise<boolean> {
    const { path } = this.context;
    if (answer === answers.theirs) {
      await this.load();
      this.notices.say(
        "kept",
        "The file from disk was loaded; your version is kept on this page",
        [{ label: "Bring mine back", act: () => this.bringBack(mine) }],
        "plain",
      );
      return true;
    }
    if (answer === answers.beside) return this.saveBeside(mine);
    if (answer === answers.over) {
      // the state of the disk is kept as a checkpoint first
      await this.context.createCheckpoint().catch(() => undefined);
      await this.drive.acceptDisk(path);
      return this.write("by itself");
    }
    this.tellChanged();
    return false;
  }

  /** Puts an earlier version in place of the file and of what is shown; the server keeps the file as a version first. */
  async restore(id: string): Promise<void> {
    await this.context.restoreCheckpoint(id);
    await this.load();
    this.onSaved();
  }

  private async load(): Promise<void> {
    await this.drive.get(this.context.path, { content: true });
    await this.context.revert();
    this.notices.settle("disk");
    this.notices.onDone();
  }

  private bringBack(mine: INotebookContent): void {
    this.context.model.fromJSON(mine);
    this.context.model.dirty = true;
    this.notices.settle("kept");
  }

  private async saveBeside(content: INotebookContent): Promise<boolean> {
    const taken = new Set<string>();
    for (;;) {
      const path = besideName(this.context.path, (name) => taken.has(name));
      taken.add(path);
      if (await this.isThere(path)) continue;
      this.drive.forget(path);
      await this.drive.save(path, { type: "notebook", format: "json", content });
      this.context.model.dirty = false;
      location.assign(`/notebook?path=${encodeURIComponent(path)}`);
      return true;
    }
  }

  private async isThere(path: string): Promise<boolean> {
    return this.drive.onDisk(path).then(
      () => true,
      () => false,
    );
  }
}
