import type { Notices } from "./notices.js";

type Word = "open" | "here" | "saved";

/** Tells when the same notebook is open on a second page of this browser, and when that one saved. */
export class OtherTabs {
  private readonly channel: BroadcastChannel;

  constructor(
    path: string,
    private readonly notices: Notices,
    private readonly look: () => Promise<void>,
  ) {
    this.channel = new BroadcastChannel(`dialbook ${path}`);
    this.channel.addEventListener("message", ({ data }: MessageEvent<Word>) => this.hear(data));
    this.tell("open");
  }

  saved(): void {
    this.tell("saved");
  }

  private tell(word: Word): void {
    this.channel.postMessage(word);
  }

  private hear(word: Word): void {
    if (word === "open") this.tell("here");
    if (word === "saved") void this.look();
    else if (!this.notices.has("tabs")) {
      this.notices.say(
        "tabs",
        "This notebook is open on another page too. Both share the kernel; each save is compared with the file first",
        [],
        "plain",
      );
    }
  }
}
