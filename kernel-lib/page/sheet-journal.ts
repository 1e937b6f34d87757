import type { Change } from "./sheet-changes.js";

/** A text that is typed and not entered yet, and where. */
export interface Draft {
  /** key of the reading */
  readonly spot: string;
  readonly text: string;
}

/** What a page keeps until the file holds it. */
export interface JournalEntry {
  readonly changes: readonly Change[];
  readonly draft: Draft | undefined;
}

/** the part of the browser's storage that is used */
export interface Shelf {
  readonly length: number;
  key(i: number): string | null;
  getItem(key: string): string | null;
  setItem(key: string, value: string): void;
  removeItem(key: string): void;
}

const prefix = "dialbook sheet ";

/** What was typed and is not in the file yet, written at every keystroke: it outlives the page and the server. */
export class Journal {
  constructor(
    private readonly shelf: Shelf,
    private readonly path: string,
    /** tells this page from another one that shows the same sheet */
    readonly page: string,
  ) {}

  /** @returns a sentence where it could not be kept */
  keep({ changes, draft }: JournalEntry): string | undefined {
    try {
      if (changes.length === 0 && draft === undefined) this.shelf.removeItem(this.key(this.page));
      else this.shelf.setItem(this.key(this.page), JSON.stringify({ changes, ...(draft ? { draft } : {}) }));
      return undefined;
    } catch {
      return "the browser keeps no copy of what is typed (its storage is full or switched off); do not close this page before all is saved";
    }
  }

  /** pages that left something behind for this sheet */
  others(): readonly string[] {
    const start = this.key("");
    const keys = Array.from({ length: this.shelf.length }, (_, i) => this.shelf.key(i) ?? "");
    return keys.filter((key) => key.startsWith(start)).map((key) => key.slice(start.length));
  }

  /** what a page left; undefined where it is none of ours */
  left(page: string): JournalEntry | undefined {
    return entryOf(this.shelf.getItem(this.key(page)));
  }

  forget(page: string): void {
    this.shelf.removeItem(this.key(page));
  }

  private key(page: string): string {
    return `${prefix}${this.path} ${page}`;
  }
}

function entryOf(text: string | null): JournalEntry | undefined {
  if (text === null) return undefined;
  try {
    const { changes, draft } = JSON.parse(text) as { changes?: unknown; draft?: unknown };
    const kept = Array.isArray(changes) ? changes.filter(isChange) : [];
    return { changes: kept, draft: isDraft(draft) ? draft : undefined };
  } catch {
    return undefined;
  }
}

function isChange(value: unknown): value is Change {
  const { spot, cell, head, was, to } = (value ?? {}) as { [name: string]: unknown };
  const named = typeof head === "string" || (typeof spot === "string" && typeof cell === "string");
  return named && typeof was === "string" && typeof to === "string";
}

function isDraft(value: unknown): value is Draft {
  const { spot, text } = (value ?? {}) as { [name: string]: unknown };
  return typeof spot === "string" && typeof text === "string";
}
