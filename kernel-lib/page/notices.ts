import { button, element } from "./dom.js";

export interface Offer {
  readonly label: string;
  readonly act: () => void | Promise<void>;
}

/** Lines above the notebook: one for each subject, each with what can be done about it; they stay until they are settled. */
export class Notices {
  readonly node = element("div", { class: "notices", role: "status", "aria-live": "polite" });
  private readonly lines = new Map<string, HTMLElement>();
  /** called when what was asked for is done: the focus may have gone with the button, or with what was shown before */
  onDone: () => void = () => undefined;

  /** shows or replaces the line of a subject */
  say(subject: string, sentence: string, offers: readonly Offer[] = [], tone: "plain" | "warm" = "warm"): void {
    const line = element("div", { class: `notice ${tone}`, "data-subject": subject }, element("span", {}, sentence));
    for (const { label, act } of offers) line.append(button(label, () => void this.follow(act)));
    const close = () => this.follow(() => this.settle(subject));
    line.append(button("Close", () => void close(), { class: "quiet", title: "Take this line away" }));
    this.settle(subject);
    this.lines.set(subject, line);
    this.node.append(line);
  }

  settle(subject: string): void {
    this.lines.get(subject)?.remove();
    this.lines.delete(subject);
  }

  has(subject: string): boolean {
    return this.lines.has(subject);
  }

  private async follow(act: Offer["act"]): Promise<void> {
    try {
      await act();
    } finally {
      this.onDone();
    }
  }
}

/** A question with its answers as buttons. @returns the answer, or undefined when the person leaves it */
export function ask(title: string, body: Node, answers: readonly string[]): Promise<string | undefined> {
  const form = element("form", { method: "dialog" }, element("h2", {}, title), body);
  const row = element("div", { class: "answers" });
  for (const answer of answers) row.append(element("button", { value: answer }, answer));
  form.append(row);
  const dialog = element("dialog", {}, form);
  document.body.append(dialog);
  dialog.showModal();
  return new Promise((resolve) => {
    dialog.addEventListener("close", () => {
      dialog.remove();
      resolve(answers.find((answer) => answer === dialog.returnValue));
    });
  });
}
