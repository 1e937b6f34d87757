import { MeasurementError } from "../measurement-error.js";
import { type Kind, Quantity } from "../quantity/index.js";
import type { SheetCells } from "./cells.js";
import type { Removal } from "./sheet.js";
import { refuseSheet } from "./sheet-error.js";

/** the value behind a key, and where it stands */
export interface SaidValue {
  readonly value: string;
  readonly line: number;
  /** the key as it is written */
  readonly written: string;
}

/** The preamble as lines, looked up by key; what nobody took is left over and kept. */
export class PreambleLines {
  readonly notes: string[] = [];
  readonly removed: Removal[] = [];
  private readonly entries = new Map<string, SaidValue>();

  constructor(
    lines: SheetCells["preamble"],
    readonly name: string,
  ) {
    for (const { line, text } of lines) this.read(line, text);
  }

  /** the value of a key, which is then no longer left over; a key with nothing behind it is unsaid */
  take(key: string): SaidValue | undefined {
    const found = this.entries.get(key);
    this.entries.delete(key);
    return found;
  }

  takeText(key: string): string | undefined {
    return this.take(key)?.value;
  }

  /** keys that begin with a word, in the order of the sheet */
  keysFrom(word: string): string[] {
    return [...this.entries.keys()].filter((key) => key === word || key.startsWith(`${word} `));
  }

  left(): (readonly [string, string])[] {
    return [...this.entries.values()].map(({ written, value }) => [written, value] as const);
  }

  private read(line: number, text: string): void {
    const colon = text.indexOf(":");
    const written = text.slice(0, Math.max(colon, 0)).trim();
    const key = written.toLowerCase().replace(/[\s_]+/g, " ");
    const value = text.slice(colon + 1).trim();
    if (key === "" || key === "note") {
      if (value !== "") this.notes.push(key === "" ? text : value);
    } else if (value === "") {
      return;
    } else if (key === "removed") {
      this.removed.push(this.removal(line, value));
    } else if (this.entries.has(key)) {
      const first = this.entries.get(key)!;
      refuseSheet(
        "preamble-twice",
        { name: this.name, line },
        `"# ${key}:" stands in line ${first.line} already; leave one of the two`,
      );
    } else {
      this.entries.set(key, { value, line, written });
    }
  }

  private removal(line: number, value: string): Removal {
    const found = /^([^:]+), pass (\d{1,6}): (.+)$/.exec(value);
    if (found) return { place: found[1]!, pass: Number(found[2]), reason: found[3]! };
    return refuseSheet(
      "removed-line",
      { name: this.name, line },
      `"# removed: ${value}" is not understood; write "# removed: C4, pass 2: the reason"`,
    );
  }
}

/** A quantity of the preamble; the line is named where it cannot be read. */
export function quantityOf<K extends Kind>(
  lines: PreambleLines,
  key: string,
  said: Pick<SaidValue, "value" | "line">,
  kind: K,
): Quantity<K> {
  try {
    return Quantity.parse(kind, said.value);
  } catch (error) {
    if (!(error instanceof MeasurementError)) throw error;
    return refuseSheet(error.code, { name: lines.name, line: said.line }, `"# ${key}:" ${error.message}`);
  }
}
