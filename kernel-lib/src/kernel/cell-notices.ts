import { cellNames, parsedCell } from "./cell-names.js";
import type { LibraryAge } from "./library-age.js";
import { NameLedger, type Overtaken } from "./name-ledger.js";
import { type SlowLoop, slowLoops } from "./slow-loop.js";

/** a loop of so many rounds is told of before it runs; it takes about a third of a second */
const manyRounds = 1e6;
/** a cell with a loop that took so long is told of after it ran */
const longSeconds = 1;

/** What a person who works by hand would want to be told about a cell that is otherwise in order. */
export class CellNotices {
  private readonly ledger = new NameLedger();

  constructor(private readonly library: LibraryAge) {}

  /** Sentences to show before a cell runs. */
  before(source: string): readonly string[] {
    const loops = slowLoops(parsedCell(source), this.ledger.names);
    return [
      ...(this.library.isRebuilt() ? [rebuilt] : []),
      ...loops.filter(({ rounds = 0 }) => rounds >= manyRounds).map(slowBefore),
    ];
  }

  /**
   * Sentences to show after a cell ran.
   *
   * @param place what tells the cell apart from the others of the notebook
   */
  after(source: string, cell: number, place: string, seconds: number): readonly string[] {
    const file = parsedCell(source);
    const loops = seconds < longSeconds ? [] : slowLoops(file, this.ledger.names);
    const told = loops.filter(({ rounds = 0 }) => rounds < manyRounds).slice(0, 1);
    return [
      ...told.map((loop) => slowAfter(loop, seconds)),
      ...this.ledger.ran(cell, place, cellNames(file)).map(overtaken),
    ];
  }
}

const rebuilt =
  "dialbook was built anew while this kernel ran: cells are checked against the new build and run the old one; restart the kernel";

const cure = "put it into a function and call that, as in: function work() { … }";

function slowBefore({ line, name, rounds = 0 }: SlowLoop): string {
  return `line ${line}: a loop of ${rounds.toLocaleString("en").replaceAll(",", " ")} rounds at the top level of a cell, where each use of ${name} can be 400 times slower; ${cure}`;
}

function slowAfter({ line, name }: SlowLoop, seconds: number): string {
  return `line ${line}: the cell took ${seconds.toFixed(1)} s with a loop at its top level, where each use of ${name} can be 400 times slower; ${cure}`;
}

function overtaken({ name, cells }: Overtaken): string {
  const used = cells.map((cell) => `[${cell}]`).join(", ");
  const [results, them] = cells.length === 1 ? ["the result of cell", "it"] : ["the results of cells", "them"];
  return `${name} is set anew here: ${results} ${used} came from the ${name} before; run ${them} again, or give this one another name`;
}
