import { MeasurementError } from "../src/measurement-error.js";
import type { SheetEdit, SheetText } from "../src/survey/sheet-text.js";
import { type Change, editOf, indexOf, type SpotIndex, sameCell, summed } from "./sheet-changes.js";
import { type Clash, merge } from "./sheet-merge.js";
import type { SheetModel } from "./sheet-model.js";
import type { SheetOnDisk, SheetServer } from "./sheet-wire.js";

/** Where the saving stands, for the person. */
export type SaveState =
  | { readonly is: "saved" }
  | { readonly is: "saving" }
  /** the server does not answer, or does not take it; all is kept here and sent again */
  | { readonly is: "kept"; readonly sentence: string }
  /** the file is no sheet any more; what was typed is held here until it is put right */
  | { readonly is: "stuck"; readonly sentence: string }
  | { readonly is: "clash"; readonly clashes: readonly Clash[] };

export interface SaverHooks {
  /** a model of a text, or a refusal */
  model(text: string): SheetModel;
  /** the file was changed by somebody else and is now so; one's own changes are laid over it already */
  otherChanged(): void;
  told(state: SaveState): void;
  /** the file holds everything up to here */
  saved(version: string): void;
  /** calls back after a while, to send again */
  later(again: () => void): void;
}

/**
 * Brings what is typed into the file, one request at a time, and holds it back where that would write over what somebody
 * else wrote. `disk` is the file as last seen; `pending` is what it does not hold yet.
 */
export class Saver {
  private index: SpotIndex;
  private sending = false;
  /** why nothing is sent for a while */
  private waiting: string | undefined;
  clashes: readonly Clash[] = [];

  constructor(
    private readonly path: string,
    private readonly server: SheetServer,
    private readonly hooks: SaverHooks,
    public disk: SheetModel,
    public version: string,
    public pending: readonly Change[],
  ) {
    this.index = indexOf(disk);
  }

  /** the sheet with what is pending laid over it */
  get shown(): SheetText {
    return this.disk.text.edited(this.edits(this.pending));
  }

  add(changes: readonly Change[]): void {
    this.pending = [...this.pending, ...changes];
    if (this.waiting !== undefined) this.hooks.told({ is: "kept", sentence: this.waiting });
    void this.send();
  }

  /** The person said which of two stands: one's own is sent, the other's stays as it is. */
  settle(clash: Clash, stands: "mine" | "theirs"): void {
    this.clashes = this.clashes.filter((other) => other !== clash);
    if (stands === "mine" && clash.theirs !== undefined) {
      this.pending = [...this.pending, { ...clash.mine, was: clash.theirs }];
    }
    this.tell();
    void this.send();
  }

  /** The file as it is on the disk now: taken in, and one's own changes held against it. @returns false where it is no
   * sheet any more: then everything here stays as it was */
  takeIn({ text, version }: SheetOnDisk): boolean {
    const mine = [...this.clashes.map((clash) => clash.mine), ...this.pending];
    const now = this.attempt(text);
    if (now === undefined) return false;
    this.disk = now;
    this.index = indexOf(this.disk);
    this.version = version;
    const { keep, clashes } = merge(mine, this.disk);
    this.pending = keep;
    this.clashes = clashes;
    this.hooks.otherChanged();
    this.tell();
    return true;
  }

  /** @param again whether it was tried before: that nothing is saved stays told until it is */
  async send(again = false): Promise<void> {
    if (this.sending || (this.waiting !== undefined && !again)) return;
    const sent = this.pending;
    if (sent.length === 0) {
      this.waiting = undefined;
      return this.tell();
    }
    this.sending = true;
    if (!again) this.hooks.told({ is: "saving" });
    const edits = this.edits(sent);
    const answer = await this.server.save(this.path, this.version, edits);
    this.sending = false;
    this.waiting = "sentence" in answer ? answer.sentence : undefined;
    if (answer.is === "saved") {
      this.disk = { ...this.disk, text: this.disk.text.edited(edits) };
      if (edits.some((edit) => !("row" in edit))) this.disk = this.hooks.model(this.disk.text.text);
      this.version = answer.version;
      this.pending = this.pending.slice(sent.length);
      this.hooks.saved(answer.version);
      this.tell();
      return this.send();
    }
    if (answer.is === "changed") {
      return this.takeIn(answer.disk) ? this.send() : undefined;
    }
    this.hooks.told({ is: "kept", sentence: answer.sentence });
    this.hooks.later(() => void this.send(true));
  }

  /** whether a cell waits for the person to say whose reading stands */
  clashAt(change: Change): Clash | undefined {
    return this.clashes.find(({ mine }) => sameCell(mine, change));
  }

  private attempt(text: string): SheetModel | undefined {
    try {
      return this.hooks.model(text);
    } catch (error) {
      if (!(error instanceof MeasurementError)) throw error;
      this.hooks.told({
        is: "stuck",
        sentence: `the file was changed by somebody else and is no sheet any more (${error.message}); what is shown here is kept`,
      });
      return undefined;
    }
  }

  private edits(changes: readonly Change[]): readonly SheetEdit[] {
    return summed(changes).flatMap((change) => editOf(change, this.disk, this.index) ?? []);
  }

  private tell(): void {
    if (this.clashes.length > 0) this.hooks.told({ is: "clash", clashes: this.clashes });
    else if (this.pending.length === 0) this.hooks.told({ is: "saved" });
  }
}
