import { describe, expect, it } from "vitest";
import { cutCells } from "../../kernel-lib/src/survey/cells.js";
import { parseChecksums, writeChecksums } from "../../kernel-lib/src/survey/checksums.js";
import { cornerUnits, isGridCorner, letters } from "../../kernel-lib/src/survey/grid-sheet.js";
import { fromDataFrame } from "../../kernel-lib/src/survey/index.js";
import { alike } from "../../kernel-lib/src/survey/likeness.js";
import { optionalPackage } from "../../kernel-lib/src/survey/optional-package.js";
import { parseSheet, sourceOfText } from "../../kernel-lib/src/survey/parse-sheet.js";
import { shown } from "../../kernel-lib/src/survey/sheet-error.js";
import * as record from "../../kernel-lib/src/survey/sheet-record.js";
import { SheetText } from "../../kernel-lib/src/survey/sheet-text.js";
import { parseSurvey } from "../../kernel-lib/src/survey/survey.js";
import { refusal } from "../refusal.js";

const above = [
  "# relative to: travel",
  "# front: y-",
  "# +x: right",
  "# +y: back",
  "# gauge resolution: 1 um",
  "# gauge maximum permissible error: 4 um",
];
const said = (act: () => unknown) => {
  const { code, message } = refusal(act);
  return `${code}: ${message}`;
};

describe("a grid as it stands on paper", () => {
  const corner = "y/mm \\ x/mm z/um";
  const grid = (...lines: string[]) => parseSurvey([...above, ...lines].join("\n"), { name: "g" });
  const readings = (...lines: string[]) =>
    grid(...lines)
      .readings()
      .map(({ place, x, y, z, pass }) =>
        [place, x!.in("mm"), y!.in("mm"), z.in("um")]
          .map((v) => (typeof v === "number" ? Number(v.toFixed(6)) : v))
          .concat(pass),
      );

  it("has its corner written in several ways", () => {
    const yes = ["y/mm \\ x/mm z/um", "y/mm|x/in", "y/um \\ x/mm: z/thou", "y/mm\\x/mm"];
    expect(yes.map(isGridCorner)).toEqual([true, true, true, true]);
    expect([undefined, "", "place", "x/mm \\ y/mm", "y \\ x", "y/mm x/mm", "a y/mm \\ x/mm"].map(isGridCorner)).toEqual(
      new Array(7).fill(false),
    );
    expect(yes.map(cornerUnits)).toEqual([
      { x: "mm", y: "mm", z: "um" },
      { x: "in", y: "mm" },
      { x: "mm", y: "um", z: "thou" },
      { x: "mm", y: "mm" },
    ]);
    expect(cornerUnits("place")).toEqual({ x: "", y: "" });
  });

  it("names its places by column and row, in its own units", () => {
    expect(readings("y/in \\ x/mm z/thou,0,50.5,,", "0,1,-2.5", "2,,4")).toEqual([
      ["A1", 0, 0, 25.4, 1],
      ["B1", 50.5, 0, -63.5, 1],
      ["B2", 50.5, 50.8, 101.6, 1],
    ]);
    expect([0, 25, 26, 51, 52, 701, 702].map(letters)).toEqual(["A", "Z", "AA", "AZ", "BA", "ZZ", "AAA"]);
  });

  it("numbers its passes by the line above each, or by its blocks", () => {
    const block = (z: number) => [`${corner},0`, `0,${z}`];
    const passes = (...lines: string[]) => readings(...lines).map((r) => `${r[3]} in ${r[4]}`);
    expect(passes(...block(1), ...block(2))).toEqual(["1 in 1", "2 in 2"]);
    expect(passes("# pass: 3", ...block(1), "# pass : 7", ...block(2))).toEqual(["1 in 3", "2 in 7"]);
    expect(passes(...block(1), "#pass:5", ...block(2), ...block(3))).toEqual(["1 in 1", "2 in 5", "3 in 3"]);
    expect(said(() => grid("# pass: 2", ...block(1), ...block(2)))).toBe(
      'two-readings: g line 10: pass 2 has a block already; write "# pass: 3" above this one',
    );
  });

  it.each<[lines: string[], sentence: string]>([
    [
      ["# pass: 0", `${corner},0`, "0,1"],
      'pass: g line 8: "# pass: 0" is not a pass; write 1 for the first pass, 2 for the second',
    ],
    [
      ["# pass: 1234567", `${corner},0`, "0,1"],
      'pass: g line 8: "# pass: 1234567" is not a pass; write 1 for the first pass, 2 for the second',
    ],
    [
      [`${corner},0`, "# pass: 1.5", "0,1"],
      'pass: g line 8: "# pass: 1.5" is not a pass; write 1 for the first pass, 2 for the second',
    ],
    [
      [`${corner},0`, "# vice: off", "0,1"],
      'late-preamble: g line 8: "# vice: off" stands below the heading; only "# pass: 2" may stand between two blocks',
    ],
    [
      [`${corner},0`, `${corner},0`, "0,1"],
      "empty-sheet: g line 7: no row follows the heading of the grid; write y and its readings below it",
    ],
    [
      ["y/mm \\ x/mm,0", "0,1"],
      'heading-unit: g line 7, column 1: the corner "y/mm \\\\ x/mm" does not say the unit of z; write y/mm \\ x/mm z/um',
    ],
    [
      ["y/kg \\ x/mm z/um,0", "0,1"],
      'heading-unit: g line 7, column 1: "kg" is not a unit of length here; use m, mm, um, nm, in, thou or tenth',
    ],
    [
      ["y/mm \\ x/mm z/kg,0", "0,1"],
      'heading-unit: g line 7, column 1: "kg" is not a unit of length here; use m, mm, um, nm, in, thou or tenth',
    ],
    [[`${corner}`, "0,1"], "heading: g line 7: no x stands in the heading of the grid; write the x of each column"],
    [
      [`${corner},0,9,0`, "0,1,2,3"],
      "two-readings: g line 7: x 0 stands twice in the grid; a grid has each x once a pass",
    ],
    [
      [`${corner},0`, "5,1", "5,2"],
      "two-readings: g line 7: y 5 stands twice in the grid; a grid has each y once a pass",
    ],
    [[`${corner},0`, ",1"], "blank: g line 8: the x or y of a grid line is blank; write where it stands"],
    [[`${corner},0,,9`, "0,1,2,3"], "blank: g line 7: the x or y of a grid line is blank; write where it stands"],
    [
      [`${corner},0,far`, "0,1,2"],
      'not-a-number: g line 7, column 3: "far" is not a number; type digits only, or leave the cell blank if the place was not probed',
    ],
    [
      [`${corner},0,5`, "0,1"],
      "row-width: g line 8: 2 cells, and the grid is wider; fill the row up, blank cells included",
    ],
    [
      [`${corner},0`, "0,1,,7"],
      'row-width: g line 8: "7" stands right of the last x; write its x into the heading, or check for a decimal comma',
    ],
    ...[
      [`${corner},0,6`, "0,1,2"],
      [`${corner},0`, "0,1"],
      [`${corner},0,5`, "1,1,2"],
      [`${corner},0,5`, "0,1,2", "1,1,2"],
      ["y/mm \\ x/mm z/mm,0,5", "0,1,2"],
    ].map((second): [string[], string] => [
      [`${corner},0,5`, "0,1,2", ...second],
      "grid-shape: g line 9: the block of pass 2 has other units, x or y than the block of pass 1; give every block the same places, blank where not probed",
    ]),
  ])("is refused: %#", (lines, sentence) => {
    expect(said(() => grid(...lines))).toBe(sentence);
  });
});

describe("the cells of a sheet", () => {
  const cells = (text: string) => cutCells(text, "t");
  it("are cut at tab, else semicolon, else comma, as the heading has them", () => {
    expect(cells("a\tb;c,d\n1\t2;3,4").table[1]!.cells).toEqual(["1", "2;3,4"]);
    expect(cells("a;b,c\n1;2,3").table[1]!.cells).toEqual(["1", "2,3"]);
    expect(cells("a\n1").separator).toBe(",");
  });
  it("keep their line, without blanks around them, empty lines passed over", () => {
    expect(
      cells('\uFEFF# one\r\n\r\n"# two"\r\n ,, \r\na, b \r\n,,\r\n"x, ""y""", 3\r\n"two\r\nlines",4\r\n5,6'),
    ).toEqual({
      preamble: [
        { line: 1, text: "one" },
        { line: 3, text: "two" },
      ],
      separator: ",",
      table: [
        { line: 5, cells: ["a", "b"] },
        ...[
          [7, 'x, "y"', "3"],
          [9, "two\nlines", "4"],
          [10, "5", "6"],
        ].map(([line, ...list]) => ({ line, cells: list })),
      ],
    });
  });
  it("are refused where they are no text, too long, none, or quoted by halves", () => {
    expect(said(() => cells("a\0b"))).toBe(
      "not-text: t: holds bytes that are no text; save the sheet as CSV (UTF-8) and read that file",
    );
    expect(said(() => cells(`a\n${"x".repeat(20_001)}`))).toBe(
      "line-too-long: t line 2: 20001 characters in one line; a sheet has one reading a row, save it as CSV with line ends",
    );
    expect(cells(`a\n${"x".repeat(20_000)}`).table).toHaveLength(2);
    const heading = "write the heading place,x/mm,y/mm,z/um,pass and a row for each reading";
    expect(said(() => cells("\n,,\n"))).toBe(`empty-sheet: t: holds nothing; ${heading}`);
    expect(said(() => cells("#\n"))).toBe(`empty-sheet: t: holds nothing; ${heading}`);
    expect(said(() => cells("# a: b\n"))).toBe(`empty-sheet: t: holds only # lines and no heading; ${heading}`);
    expect(said(() => cells('# a\nb,c\n1,2\n3,x"y"\n'))).toMatch(
      /^quotation-mark: t line 4: a quotation mark opens or closes/,
    );
  });
  it("are shown in quotation marks, 40 signs of them", () => {
    expect(shown('a"b')).toBe('"a\\"b"');
    expect(shown("x".repeat(40))).toBe(`"${"x".repeat(40)}"`);
    expect(shown("x".repeat(41))).toBe(`"${"x".repeat(39)}…"`);
  });
});

describe("the list of closed sheets", () => {
  const sum = "0123456789abcdef".repeat(4);
  it("is written and read again, whatever the names", () => {
    const entries = ["a.csv", 'b, "c".csv'].map((file) => ({ file, closed: "2026-10-17", sha256: sum }));
    const text = writeChecksums(entries);
    expect(text).toBe(`file,closed,sha256\na.csv,2026-10-17,${sum}\n"b, ""c"".csv",2026-10-17,${sum}\n`);
    expect(parseChecksums(text)).toEqual(entries);
    expect(parseChecksums(`\uFEFF${text.replaceAll("\n", "\r\n")}\r\n \r\n`)).toEqual(entries);
    expect(writeChecksums([])).toBe("file,closed,sha256\n");
  });
  it.each([
    ["", 'checksums: checksums.csv line 1: the heading is ""; it must be file,closed,sha256'],
    [
      `${"x".repeat(70)}\n`,
      `checksums: checksums.csv line 1: the heading is "${"x".repeat(60)}"; it must be file,closed,sha256`,
    ],
    ...[
      `a.csv,17.10.2026,${sum}`,
      `a.csv,2026-10-17,${sum}0`,
      `a.csv,2026-10-17,${sum.slice(1)}`,
      `a.csv,2026-10-17,${sum.toUpperCase()}`,
      `,2026-10-17,${sum}`,
      `a,b.csv,2026-10-17,${sum}`,
    ].map((row) => [
      `file,closed,sha256\n\n${row}\n`,
      `checksums: checksums.csv line 3: ${JSON.stringify(row.slice(0, 60))} is not a file name, a date and a checksum; put the line back as it was`,
    ]),
  ])("is refused where it was tampered with: %#", (text, sentence) => {
    expect(said(() => parseChecksums(text!))).toBe(sentence);
  });
});

describe("names that look alike", () => {
  it("are those that few letters turn into one another, nearest first, three at most", () => {
    expect(alike("table", ["tabel", "chair", "tables", "TABLE"])).toEqual(["TABLE", "tables", "tabel"]);
    expect(alike("before.csv", ["before.xlsx", "after.csv", "befor.csv"])).toEqual(["before.xlsx", "befor.csv"]);
    expect(alike("q", ["ab", "abc", "abcd"])).toEqual(["ab"]);
    expect(alike("aa", ["dd", "cc", "bb", "ee"])).toEqual(["bb", "cc", "dd"]);
    // half of a long name may differ, and no more
    expect(alike("abcdef", ["abcxyz", "abwxyz"])).toEqual(["abcxyz"]);
    expect(alike("", ["ab", "abc"])).toEqual(["ab"]);
    expect(alike("kitten", ["sitting"])).toEqual(["sitting"]);
  });
});

it("a package that only some need is asked for by name where it is not there", () => {
  expect(refusal(() => optionalPackage(["no-such-package-1", "no-such-package-2"], "drawing"))).toEqual({
    code: "package-missing",
    message:
      "drawing needs the package no-such-package-1, which is not installed; install it in the folder of the notebooks: npm install no-such-package-1",
  });
});

describe("one line of a sheet as text", () => {
  it("has its end, its cells and their places", () => {
    expect(["a\r\n", "a\n", "a\r", "a"].map((line) => [record.bare(line), record.endOf(line)])).toEqual([
      ["a", "\r\n"],
      ["a", "\n"],
      ["a", "\r"],
      ["a", ""],
    ]);
    const cut = (line: string, mark = ",") => record.spansOf(line, mark).map(([from, to]) => line.slice(from, to));
    expect(cut('a,"b,""c"",d" ,,e')).toEqual(["a", '"b,""c"",d" ', "", "e"]);
    expect(cut("\uFEFFa;b", ";")).toEqual(["a", "b"]);
    expect(cut("a,b\uFEFF")).toEqual(["a", "b\uFEFF"]);
    expect(cut('"open,')).toEqual(['"open,']);
    expect(cut('a "b,c"')).toEqual(['a "b', 'c"']);
    expect(cut("")).toEqual([""]);
    expect(cut('"",x')).toEqual(['""', "x"]);
  });
  it("says what a cell holds, and is written so that it holds it", () => {
    expect(['"a ""b"" "  ', " x ", '"half', 'a "b"'].map(record.cellText)).toEqual(['a "b"', "x", '"half', 'a "b"']);
    const written = (text: string, mark = ",") => record.writtenCell(text, mark);
    expect([" a ", "a,b", "a;b", 'say "x"', "#1", "a#1", "a\r\n\nb", "a\tb"].map((text) => written(text))).toEqual([
      "a",
      '"a,b"',
      "a;b",
      '"say ""x"""',
      '"#1"',
      "a#1",
      "a b",
      '"a\tb"',
    ]);
    expect(written("a;b", ";")).toBe('"a;b"');
  });
  it("is put together where a quotation mark is still open", () => {
    expect(record.joinQuoted(['a,"b\n', 'c",d\n', "e\n", '"f'])).toEqual(['a,"b\nc",d\n', "e\n", '"f']);
    expect(record.joinQuoted([])).toEqual([]);
  });
  it("above the heading keeps what a spreadsheet put behind it", () => {
    const kept = (line: string, value = "off") => record.withValue(line, value);
    expect(kept("# vice: on,,,\r\n")).toBe("# vice: off,,,\r\n");
    expect(kept("# vice: on  \n")).toBe("# vice: off\n");
    expect(kept("  #vice:\n")).toBe("  #vice: off\n");
    expect(kept('"# vice: on, here",,\n')).toBe('"# vice: off",,\n');
    expect(kept(' "# vice: ""a""" \n', 'b "c"')).toBe(' "# vice: b ""c"""\n');
    expect(kept("# vice: on: yes\n", "")).toBe("# vice:\n");
    expect(kept("# vice: on", "off;")).toBe('"# vice: off;"');
    expect(record.keyOf("  Travel_x  Y\t")).toBe("travel x y");
    expect(record.oneLine(" a\n b\t ")).toBe("a b");
  });
});

describe("the text of a sheet", () => {
  const text = '# title: a\n# b\n: c\nplace,x/mm\n\nA1,1\n ,\n"B\n1",2\nC1,3';
  it("counts its rows and lines, and tells what stands above", () => {
    const sheet = SheetText.of('# title: a\n# b\n#: c\n\nplace,x/mm\n\nA1,1\n ,\n"B\n1",2\nC1,3', "t");
    expect([sheet.rows, sheet.headingLine, [0, 1, 2].map((i) => sheet.line(i))]).toEqual([3, 5, [7, 9, 11]]);
    expect(sheet.row(1)).toEqual(["B\n1", "2"]);
    expect(sheet.head).toEqual([{ key: "title", written: "title", value: "a", line: 1 }]);
    expect(sheet.preamble).toEqual([
      { line: 1, text: "title: a" },
      { line: 2, text: "b" },
      { line: 3, text: ": c" },
    ]);
    expect(text).toContain("place");
  });
  it("is changed in one place, and read anew", () => {
    const sheet = SheetText.of("\uFEFF# title: a\nplace\tx/mm\nA1\t1", "t");
    expect(sheet.separator).toBe("\t");
    const changed = sheet.edited([{ row: 0, column: 1, to: "9" }]);
    expect([sheet.row(0), changed.row(0)]).toEqual([
      ["A1", "1"],
      ["A1", "9"],
    ]);
    expect(changed.text).toBe("\uFEFF# title: a\nplace\tx/mm\nA1\t9");
    const more = changed.edited([{ note: "x\ny" }]);
    expect(more.text).toBe("\uFEFF# title: a\n# note: x y\nplace\tx/mm\nA1\t9");
    expect(more.line(0)).toBe(4);
    // where the heading is the last line, a line above it ends all the same
    expect(SheetText.of("place,x/mm", "t").edited([{ head: "vice", to: "off" }]).text).toBe("# vice: off\nplace,x/mm");
    expect(sheet.edited([]).text).toBe(sheet.text);
  });
});

describe("a sheet written out", () => {
  const head = above.slice(0, 4);
  const lines = (rows: string[], heading: string, more: string[] = []) =>
    parseSurvey([...above, ...more, heading, ...rows].join("\n"))
      .toCsv()
      .split("\n");
  it("has the columns that hold something, in our order, and those that every sheet has", () => {
    const heading = "note,place,pass,z/um,y/mm,x/mm,time,temperature/degF,approach,order";
    expect(lines(['"a, ""b""",A1,1,3,0,0,19:05:07,64,+x,9', ",B1,1,,5,5,7:00,,,10"], heading).slice(6)).toEqual([
      "place,x/mm,y/mm,z/um,pass,order,time,temperature/degF,approach,note",
      'A1,0,0,3,1,9,19:05:07,64,+x,"a, ""b"""',
      "B1,5,5,,1,10,07:00,,,",
      "",
    ]);
    expect(lines(["A1,0,0,3,1,,"], "place,x/mm,y/mm,z/um,pass,note,approach").slice(6)).toEqual([
      "place,x/mm,y/mm,z/um,pass",
      "A1,0,0,3,1",
      "",
    ]);
    expect(lines(["A1,0,0,3,1,90"], "place,x/in,y/m,z/thou,pass,time/min").slice(6, 8)).toEqual([
      "place,x/in,y/m,z/thou,pass,time/min",
      "A1,0,0,3,1,90",
    ]);
    expect(head).toHaveLength(4);
  });
  it("says that its order is unknown where it is, and quotes what would be cut", () => {
    const written = lines(["A1,0,0,3,1,#5"], "place,x/mm,y/mm,z/um,pass,note", ["# order: unknown", '"# vice: off,"']);
    expect(written).toContain("# order: unknown");
    expect(written).toContain('"# vice: off,"');
    expect(written).toContain('A1,0,0,3,1,"#5"');
    expect(lines(["A1,0,0,3,1"], "place,x/mm,y/mm,z/um,pass")).not.toContain("# order: unknown");
    const midnight = lines(["A1,0,0,3,1,0:00:09"], "place,x/mm,y/mm,z/um,pass,time");
    expect(midnight.at(-2)).toBe("A1,0,0,3,1,00:00:09");
  });
});

describe("a data frame", () => {
  const frame = (columns: string[], ...values: unknown[][]) => ({
    columns,
    values,
    shape: [values.length, columns.length],
  });
  const like = parseSurvey(["# vice: off", ...above, "place,x/mm,y/mm,z/um,pass", "A1,0,0,3,1"].join("\n"), {
    name: "l",
  });
  const columns = ["place", "x/mm", "y/mm", "z/um", "pass", "note"];
  it("is a survey, its missing values blank cells, its texts as they are", () => {
    const made = fromDataFrame(
      frame(
        columns,
        ["A1", 0, 0, 1.5, 1, 'a, "b"\nc'],
        ["B1", 5, 0, Number.NaN, 1, null],
        ["C1", 9, 0, undefined, 1, "#x;"],
      ),
      { like },
    );
    expect(made.name).toBe("l");
    expect(made.protocol).toEqual({ vice: "off" });
    expect(made.blanks.map(({ place }) => place)).toEqual(["B1", "C1"]);
    const [one] = made.readings();
    expect([one!.note, one!.z.in("um"), one!.order]).toEqual(['a, "b" c', expect.closeTo(1.5, 12), undefined]);
    expect(made.toCsv()).toContain('C1,9,0,,1,"#x;"');
    const ordered = fromDataFrame(frame([...columns.slice(0, 5), "order"], ["A1", 0, 0, 1, 1, 4]), { like, name: "n" });
    expect([ordered.name, ordered.readings()[0]!.order]).toEqual(["n", 4]);
    expect(parseSheet(sourceOfText(ordered.toCsv()), {}).columns.count).toBe(1);
  });
  it("is refused where it is none", () => {
    for (const none of [undefined, null, {}, frame([]), { columns: ["a"] }, { columns: "a", values: [] }])
      expect(said(() => fromDataFrame(none as never))).toBe(
        "data-frame: data frame: is no data frame with named columns; give one made by danfojs-node",
      );
    expect(said(() => fromDataFrame(frame(["place"]) as never, { name: "n", like }))).toMatch(
      /^heading: n line 9: the heading "place" has no/,
    );
  });
});
