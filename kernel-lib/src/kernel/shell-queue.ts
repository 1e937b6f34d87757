import type { Message } from "./wire.js";

/** Requests of the shell channel in the order they came, one at a time. */
export class ShellQueue {
  private readonly waiting: { readonly message: Message; aborted: boolean }[] = [];
  private running = false;

  constructor(private readonly answer: (message: Message, aborted: boolean) => Promise<void>) {}

  add(message: Message): void {
    this.waiting.push({ message, aborted: false });
    if (!this.running) void this.run();
  }

  /** Marks every cell that waits as aborted, those still in the socket included; what is sent later runs at once. */
  async abortWaiting(): Promise<void> {
    let seen = -1;
    while (seen !== this.waiting.length) {
      seen = this.waiting.length;
      await new Promise((resolve) => setTimeout(resolve, 5));
    }
    for (const entry of this.waiting) entry.aborted = entry.message.header.msg_type === "execute_request";
  }

  private async run(): Promise<void> {
    this.running = true;
    for (let next = this.waiting.shift(); next; next = this.waiting.shift())
      await this.answer(next.message, next.aborted);
    this.running = false;
  }
}
