import type { CellNames } from "./cell-names.js";

/** A name as it stands: which cell set it, and what tells this setting from another. */
interface Setting {
  readonly cell: number;
  readonly how: string;
}

/** A cell that ran and the settings it worked with. */
interface Reader {
  readonly cell: number;
  readonly place: string;
  readonly worked: ReadonlyMap<string, Setting>;
}

/** A name that a cell has set anew, and the cells whose results were worked out with the one before. */
export interface Overtaken {
  readonly name: string;
  readonly cells: readonly number[];
}

/** Keeps account of which cell set a name and which cells worked with it. */
export class NameLedger {
  private readonly settings = new Map<string, Setting>();
  private readers: Reader[] = [];

  /** every name set so far */
  get names(): ReadonlySet<string> {
    return new Set(this.settings.keys());
  }

  /**
   * Takes a cell that ran.
   *
   * @param place what tells the cell of the notebook apart from its others: its id, or its text
   * @returns names whose earlier setting was used by a cell that was not run again since; each told once
   */
  ran(cell: number, place: string, { set, read }: CellNames): readonly Overtaken[] {
    this.readers = this.readers.filter((reader) => reader.place !== place);
    const worked = new Map(read.flatMap((name): [string, Setting][] => this.entry(name)));
    const from = [...worked].map(([name, setting]) => `${name}@${setting.cell}`).join();
    const overtaken = [...set].flatMap(([name, text]) => this.set(name, { cell, how: `${text}\n${from}` }));
    this.readers.push({ cell, place, worked });
    return overtaken;
  }

  private entry(name: string): [string, Setting][] {
    const setting = this.settings.get(name);
    return setting ? [[name, setting]] : [];
  }

  private set(name: string, setting: Setting): readonly Overtaken[] {
    const past = this.settings.get(name);
    if (past?.how === setting.how) return [];
    this.settings.set(name, setting);
    const used = this.readers.filter(({ worked }) => past && worked.get(name) === past);
    this.readers = this.readers.filter((reader) => !used.includes(reader));
    return used.length === 0 ? [] : [{ name, cells: used.map(({ cell }) => cell) }];
  }
}
