/** A cell that ran: its number, what was typed and the text it showed. */
interface Entry {
  readonly line: number;
  readonly source: string;
  readonly result: string;
}

type Row = [session: number, line: number, content: string | [string, string]];

/** Inputs since the kernel started, for the front end's "previous input" and its search. Nothing is written to disk. */
export class History {
  private readonly entries: Entry[] = [];

  add(line: number, source: string, result: string): void {
    this.entries.push({ line, source, result });
  }

  /** Answers a `history_request`: the last `n`, a range of lines, or those that match a pattern with `*` and `?`. */
  answer(request: { readonly [key: string]: unknown }): Row[] {
    const withOutput = request.output === true;
    return this.select(request).map(({ line, source, result }) => [1, line, withOutput ? [source, result] : source]);
  }

  private select(request: { readonly [key: string]: unknown }): readonly Entry[] {
    const count = typeof request.n === "number" ? request.n : undefined;
    if (request.hist_access_type === "range") {
      const start = typeof request.start === "number" ? request.start : 1;
      const stop = typeof request.stop === "number" ? request.stop : Number.POSITIVE_INFINITY;
      return this.entries.filter(({ line }) => line >= start && line < stop);
    }
    if (request.hist_access_type === "search") {
      const pattern = glob(typeof request.pattern === "string" ? request.pattern : "*");
      const found = this.entries.filter(({ source }) => pattern.test(source));
      return last(request.unique === true ? lastOfEach(found) : found, count);
    }
    return last(this.entries, count);
  }
}

function last(entries: readonly Entry[], count: number | undefined): readonly Entry[] {
  return count === undefined ? entries : count > 0 ? entries.slice(-count) : [];
}

function lastOfEach(entries: readonly Entry[]): readonly Entry[] {
  const bySource = new Map(entries.map((entry) => [entry.source, entry]));
  return entries.filter((entry) => bySource.get(entry.source) === entry);
}

function glob(pattern: string): RegExp {
  const body = pattern
    .replace(/[.+^${}()|[\]\\]/g, "\\$&")
    .replace(/\*/g, "[\\s\\S]*")
    .replace(/\?/g, "[\\s\\S]");
  return new RegExp(`^${body}$`);
}
