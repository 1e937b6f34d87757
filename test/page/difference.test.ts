import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { besideName, type CellText, differences } from "../../kernel-lib/page/difference.js";

const cell = (id: string, source: string | string[]): CellText => ({ id, cell_type: "code", source });

describe("where two states of a notebook differ", () => {
  it("names the cells whose text differs, by their ids, whatever their order", () => {
    const mine = [cell("a", "1"), cell("b", "two"), cell("c", "3")];
    const disk = [cell("c", "3"), cell("a", "1"), cell("b", "2")];
    expect(differences(mine, disk)).toEqual([{ place: 2, mine: "two", disk: "2" }]);
  });

  it("names cells that only one of the two has", () => {
    expect(differences([cell("a", "1"), cell("mine", "x")], [cell("a", "1"), cell("theirs", "y")])).toEqual([
      { place: 2, mine: "x", disk: undefined },
      { place: 2, mine: undefined, disk: "y" },
    ]);
  });

  it("takes a text in lines for the same text", () => {
    expect(differences([cell("a", "x\ny")], [cell("a", ["x\n", "y"])])).toEqual([]);
  });

  it("goes by the order where cells have no ids", () => {
    const bare = (source: string): CellText => ({ cell_type: "markdown", source });
    expect(differences([bare("1"), bare("2")], [bare("1"), bare("3")])).toEqual([{ place: 2, mine: "2", disk: "3" }]);
  });

  it("finds as much from either side", () => {
    const cells = fc.uniqueArray(fc.tuple(fc.nat(6), fc.constantFrom("x", "y")), { selector: ([id]) => id });
    const texts = (list: readonly (readonly [number, string])[]) => list.map(([id, text]) => cell(String(id), text));
    fc.assert(
      fc.property(cells, cells, (a, b) => {
        const [there, back] = [differences(texts(a), texts(b)), differences(texts(b), texts(a))];
        expect(back.length).toBe(there.length);
        expect(differences(texts(a), texts(a))).toEqual([]);
      }),
      { seed: 12 },
    );
  });
});

it("finds a free name beside a file", () => {
  const taken = new Set(["notebooks/a-mine.ipynb", "notebooks/a-mine-2.ipynb"]);
  expect(besideName("notebooks/a.ipynb", () => false)).toBe("notebooks/a-mine.ipynb");
  expect(besideName("notebooks/a.ipynb", (path) => taken.has(path))).toBe("notebooks/a-mine-3.ipynb");
});
