import { describe, expect, it } from "vitest";
import { cellOf, numberIn, type SheetModel } from "../../kernel-lib/page/sheet-model.js";
import { layPasted } from "../../kernel-lib/page/sheet-paste.js";
import { judge } from "../../kernel-lib/page/sheet-typed.js";
import { filled, sample, sampleText } from "./sheet-sample.js";

const heights = (model: SheetModel) => model.spots.map((spot) => numberIn(cellOf(model, spot)) ?? Number.NaN);
const typed = (text: string, index: number, model = sample()) => judge(text, index, model, heights(model));

describe("a reading that is typed", () => {
  it("keeps its digits as typed, with the decimal mark of the sheet", () => {
    expect(typed(" 12 ", 2)).toEqual({ is: "taken", cell: "12" });
    expect(typed("-4.0", 2)).toEqual({ is: "taken", cell: "-4.0" });
    expect(typed("−4,0", 2)).toEqual({ is: "taken", cell: "-4.0" });
    expect(typed("", 2)).toEqual({ is: "taken", cell: "" });
    const comma = sample(sampleText(['A1,"0,5",0,,1,1,,,']));
    expect(typed("4.0", 0, comma)).toEqual({ is: "taken", cell: "4,0" });
  });

  it("is refused where it is no number, with the unit it is to be in", () => {
    const sentence = (text: string) => typed(text, 2);
    expect(sentence("12O")).toEqual({
      is: "refused",
      sentence: 'A1: "12O" is not a number; type digits in µm, or leave it blank where nothing was probed',
    });
    expect(sentence("12 um")).toEqual({
      is: "refused",
      sentence: 'A1: "12 um" brings a unit of its own; this column is in µm, type digits only',
    });
    expect(sentence("1,234.5")).toEqual({
      is: "refused",
      sentence: 'A1: "1,234.5" can be read two ways; type one decimal comma or point and no separators of thousands',
    });
    for (const text of ["NaN", "Infinity", "1e400", "--3", "4 5"]) expect(typed(text, 2).is).toBe("refused");
  });

  it("is asked about beyond the range of the gauge", () => {
    expect(typed("1250", 2)).toEqual({
      is: "asked",
      cell: "1250",
      sentence:
        "A1: 1250 µm is more than the gauge shows, its range is 1000 µm; look for a wrong unit or a slip of the pen",
    });
    expect(typed("510", 2, filled([-500]))).toEqual({
      is: "asked",
      cell: "510",
      sentence:
        "A1: 510 µm makes the readings span 1010 µm, its range is 1000 µm; look for a wrong unit or a slip of the pen",
    });
    expect(typed("490", 2, filled([-500])).is).toBe("taken");
  });

  it("is asked about a whole turn off the same place in the other pass, off the datum before, off its neighbours", () => {
    const first = [0, 0, 10, 12, 14, 30, 26, 22, 1, 1];
    // B1, pass 2, read 22 µm in pass 1
    expect(typed("224", 10, filled(first))).toEqual({
      is: "asked",
      cell: "224",
      sentence:
        "B1: 224 µm stands 202 µm above its reading in pass 1, close to a whole turn of the pointer (200 µm); read the turn counter again",
    });
    expect(typed("24", 10, filled(first)).is).toBe("taken");
    expect(typed("124", 10, filled(first)).is).toBe("taken");
    expect(typed("-399", 8, filled(first))).toMatchObject({ is: "asked" });
    expect(typed("-200", 8, filled(first))).toEqual({
      is: "asked",
      cell: "-200",
      sentence:
        "datum 1: -200 µm stands 200 µm below the reading before at datum 1, close to a whole turn of the pointer (200 µm); read the turn counter again",
    });
    expect(typed("-190", 4, filled(first.slice(0, 4)))).toMatchObject({
      is: "asked",
      sentence: expect.stringContaining("stands 201 µm below the places beside it, close to a whole turn"),
    });
  });

  it("is asked about where the gauge cannot be read so finely", () => {
    expect(typed("12.5", 2)).toEqual({
      is: "asked",
      cell: "12.5",
      sentence: "A1: 12.5 µm is no whole step of 1 µm, as this gauge is read; type it again or keep it",
    });
  });

  it("is taken as it is where the sheet does not say which gauge was used", () => {
    const model = sample("place,x/mm,y/mm,z/thou,pass\nA1,0,0,,1\n");
    expect(typed("0.37", 0, model)).toEqual({ is: "taken", cell: "0.37" });
  });
});

describe("a pasted column", () => {
  it("is laid from one reading on, in the order of typing, with or without the datum returns", () => {
    const laid = layPasted("10\n12,5\n\n14\n", 6, sample(), true);
    expect(laid).toEqual({
      is: "laid",
      cells: [
        { index: 6, cell: "10" },
        { index: 7, cell: "12.5" },
        { index: 9, cell: "14" },
      ],
      sentence: "3 readings in µm, from B2, pass 1 to datum 1, pass 1, reading 4",
    });
    const without = layPasted("10\r\n12\r\n13\r\n", 6, sample(), false);
    expect(without.is === "laid" && without.cells.map(({ index }) => index)).toEqual([6, 7, 10]);
  });

  it("is refused whole where a line is no number, marks are mixed, columns are several or lines too many", () => {
    const refused = (text: string, from = 0) => {
      const laid = layPasted(text, from, sample(), true);
      return laid.is === "refused" ? laid.sentence : laid;
    };
    expect(refused("10\n1O\n12")).toBe(
      'the pasted text: line 2, "1O", is not a number; correct it where it was copied, digits in µm only; nothing was entered',
    );
    expect(refused("1,5\n2.5")).toBe(
      "the pasted text: line 1 has a decimal comma and line 2 a point; use one of the two throughout; nothing was entered",
    );
    expect(refused("A1\t10\nA2\t12")).toBe(
      "the pasted text: more than one column stands in it; copy the column of the readings alone; nothing was entered",
    );
    expect(refused("1\n2\n3", 16)).toBe(
      "the pasted text: 3 lines, and 2 readings are left from datum 1, pass 2, reading 1 on; begin further up or copy fewer; nothing was entered",
    );
  });
});
