/** A cell as a notebook file holds it. */
export interface CellText {
  readonly id?: string;
  readonly cell_type: string;
  readonly source: string | readonly string[];
}

export interface Difference {
  /** number of the cell in the notebook that has it, counted from 1 */
  readonly place: number;
  readonly mine: string | undefined;
  readonly disk: string | undefined;
}

/** Where two states of one notebook differ, by the ids of the cells, or by their order where there are none. */
export function differences(mine: readonly CellText[], disk: readonly CellText[]): readonly Difference[] {
  const key = (cell: CellText, at: number): string => cell.id ?? `at ${at}`;
  const onDisk = new Map(disk.map((cell, at) => [key(cell, at), { text: textOf(cell), at }]));
  const found: Difference[] = [];
  mine.forEach((cell, at) => {
    const other = onDisk.get(key(cell, at));
    onDisk.delete(key(cell, at));
    const text = textOf(cell);
    if (other?.text !== text) found.push({ place: at + 1, mine: text, disk: other?.text });
  });
  for (const { text, at } of onDisk.values()) found.push({ place: at + 1, mine: undefined, disk: text });
  return found;
}

function textOf({ source }: CellText): string {
  return typeof source === "string" ? source : source.join("");
}

/** A free name beside a file: "chapter.ipynb" gives "chapter-mine.ipynb", then "chapter-mine-2.ipynb". */
export function besideName(path: string, taken: (path: string) => boolean): string {
  const stem = path.replace(/\.ipynb$/, "");
  for (let k = 1; ; k++) {
    const name = `${stem}-mine${k === 1 ? "" : `-${k}`}.ipynb`;
    if (!taken(name)) return name;
  }
}
