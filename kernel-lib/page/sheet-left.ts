import { counted } from "../src/words.js";
import { type Change, changeName } from "./sheet-changes.js";
import type { Draft, Journal } from "./sheet-journal.js";

/** What pages that ended before all was saved left behind for this sheet. */
export interface LeftBehind {
  readonly changes: readonly Change[];
  readonly draft: Draft | undefined;
  readonly sentence: string | undefined;
  /** to be called when this page keeps them itself */
  forget(): void;
}

/** Takes over the journals of pages that are gone; one that is still open somewhere holds its lock and keeps its own. */
export async function leftBehind(journal: Journal): Promise<LeftBehind> {
  const earlier = journal.others().filter((page) => page !== journal.page);
  hold(journal.page);
  const ended = await Promise.all(earlier.map(isGone));
  const gone = earlier.filter((_, i) => ended[i]);
  const entries = gone.flatMap((page) => journal.left(page) ?? []);
  const changes = entries.flatMap((entry) => entry.changes);
  const draft = entries.findLast((entry) => entry.draft !== undefined)?.draft;
  return {
    changes,
    draft,
    sentence: wordsOf(changes, draft),
    forget() {
      for (const page of gone) journal.forget(page);
    },
  };
}

function wordsOf(changes: readonly Change[], draft: Draft | undefined): string | undefined {
  const typed =
    draft &&
    `${changeName({ spot: draft.spot, cell: "reading", was: "", to: "" })}: "${draft.text}" was typed and not entered; it is back in the field`;
  const kept =
    changes.length > 0 &&
    counted(
      changes.length,
      "change that was not saved yet came back and is sent again",
      "changes that were not saved yet came back and are sent again",
    );
  const parts = [kept, typed].filter((part) => typeof part === "string" && part !== "");
  return parts.length === 0 ? undefined : parts.join("; ");
}

const lockOf = (page: string) => `dialbook sheet ${page}`;

/** held as long as this page lives, and let go by the browser when it ends in whatever way */
function hold(page: string): void {
  void navigator.locks?.request(lockOf(page), () => new Promise(() => undefined));
}

/** a page that is loaded anew, or closed just now, may hold its lock a moment longer than it is in sight */
const momentMs = 1000;

async function isGone(page: string): Promise<boolean> {
  if (navigator.locks === undefined) return true;
  const signal = AbortSignal.timeout(momentMs);
  return navigator.locks.request(lockOf(page), { signal }, () => true).catch(() => false);
}
